import { aspects, bearingTypes, valuesOf } from '@corewright/bearings/bearing-types';
import { readLength } from '@corewright/bearings/read-length';
import type { KeepDimensions, KeepSuffix } from '@corewright/contracts/bearings';
import { badInput, done, type Refusal, type Result, refused } from '../../../platform/refusal.js';

export interface Figures {
  bore: number;
  outside: number;
  width: number;
  chamfer: number | null;
}

/** Whether the figures can be those of a bearing; what a designation says otherwise is no reason to refuse them. */
export function decideDimensions(keyed: KeepDimensions): Result<Figures> {
  const type = whyNoChoice('type', keyed.type, bearingTypes);
  if (type !== null) return refused(type);
  const figures: Record<string, number> = {};
  for (const name of ['bore', 'outside', 'width', 'chamfer'] as const) {
    if (keyed[name] === '') continue;
    const length = readLength(keyed[name]);
    if (!length.ok) return refused(badInput(name, length.error.sentence));
    figures[name] = Number(length.value.mm.toFixed(4));
  }
  const { bore = 0, outside = 0, width = 0, chamfer = null } = figures;
  const ring = { bore, outside, width, chamfer };
  const not = whyNoRing(ring);
  return not === null ? done(ring) : refused(badInput(not.figure, not.sentence));
}

/** Which figure cannot be that of a bearing, beside the others, and why; null where all can. */
export function whyNoRing({ bore, outside, width, chamfer }: Figures): { figure: keyof Figures; sentence: string } | null {
  if (outside <= bore)
    return {
      figure: 'outside',
      sentence: `The outside, ${outside} mm, must be larger than the bore, ${bore} mm. Look which is which.`,
    };
  if (chamfer !== null && chamfer >= Math.min(width, outside - bore))
    return { figure: 'chamfer', sentence: `A chamfer of ${chamfer} mm is larger than the ring. Look at the figure again.` };
  return null;
}

/** Null where what a suffix is to mean is something that comparing bearings knows. */
export function whyNoSuffix({ aspect, value }: KeepSuffix): Refusal | null {
  const noAspect = whyNoChoice('aspect', aspect, aspects);
  const values = valuesOf[aspect as (typeof aspects)[number]];
  return noAspect ?? (values === null ? null : whyNoChoice('value', value, values));
}

function whyNoChoice(path: string, keyed: string, choices: readonly string[]): Refusal | null {
  return choices.includes(keyed) ? null : badInput(path, `"${keyed}" is not known here. Choose one of: ${choices.join(', ')}.`);
}

/** A row that came with the program is not struck out: it would be back at the next start. */
export function shippedStays(what: string): Refusal {
  return {
    status: 409,
    code: 'shipped-row',
    title: 'Shipped with the program',
    detail: `${what} came with the program and stays. Key your own in its place where it is wrong. Nothing was changed.`,
  };
}
