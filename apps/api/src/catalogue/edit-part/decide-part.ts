import { badInput, type Refusal } from '../../platform/refusal.js';
import { whyNotYears, type Years } from '../day-of-record.js';
import { partNumberKey } from '../part-number-key.js';

/** Said wherever a number is taken: on a screen and from a file. */
export const noCharacters = 'A part number has letters or figures. Key it as it is printed.';

/** Why rubber of a kind cannot be what a part is made of; null where it can. */
export function whyNotMadeOf({ material, polymer }: { material: string | null; polymer: string }): string | null {
  return polymer !== '' && material !== 'rubber' ? 'Only rubber has a kind of rubber. Choose rubber, or leave this empty.' : null;
}

/** A number of the same maker with the same letters and figures. */
export interface NumberThere {
  number: string;
  partId: string;
  partName: string;
}

export interface NumberAsked extends Years {
  maker: string;
  number: string;
  /** said after it was asked: it is another number, though it differs only in how it is written */
  isAnother: boolean;
}

/**
 * Why a number may not be written down; null when it may. One number of a maker, as printed, is one part; one that differs only in spaces
 * and hyphens is asked about, for it is as a rule the same.
 */
export function whyNotNumbered(asked: NumberAsked, there: readonly NumberThere[], today: string): Refusal | null {
  if (partNumberKey(asked.number) === '') return badInput('number', noCharacters);
  const not = whyNotYears(asked, today);
  if (not !== null) return badInput(not.year, not.sentence);
  const same = there.find((each) => each.number === asked.number);
  if (same)
    return conflict(
      'numbered-already',
      'In the books already',
      `${same.number} of ${asked.maker} is the number of ${same.partName} already. One number of a maker is one part.`,
      same,
    );
  const [alike] = there;
  if (alike === undefined || asked.isAnother) return null;
  return conflict(
    'written-otherwise',
    'Is it the same number?',
    `${asked.maker} has ${alike.number} already, ${alike.partName}. It differs only in how it is written. If it is another number all the same, say so.`,
    alike,
  );
}

function conflict(code: string, title: string, detail: string, there: NumberThere): Refusal {
  return { status: 409, code, title, detail, values: { part: { id: there.partId, name: there.partName, number: there.number } } };
}
