import type { EvidenceKind, PartNamed } from '@corewright/contracts/relations';
import type { CandidateRow } from '../stores/MayServeTable.js';

/** What is keyed where a part is accepted in place of another. */
export interface SubstituteKeyed {
  /** the part that is to go there; its id is null until one is chosen */
  readonly part: { readonly id: string | null; readonly text: string; readonly number: string };
  /** the part that was chosen elsewhere than in the field; null where none was */
  readonly offeredId: string | null;
  readonly marking: string;
  readonly bore: string;
  readonly outside: string;
  readonly width: string;
  readonly evidence: { readonly kind: EvidenceKind; readonly words: string };
  readonly deviation: string;
  readonly position: string;
  readonly forEveryJob: boolean;
}

/** Longer words than this are not taken. */
export const wordsMax = 200;

export const nothingKeyed: SubstituteKeyed = {
  part: { id: null, text: '', number: '' },
  offeredId: null,
  marking: '',
  bore: '',
  outside: '',
  width: '',
  evidence: { kind: 'measured', words: '' },
  deviation: '',
  position: '',
  forEveryJob: true,
};

/** The same with a part that was found elsewhere. */
export function withPart(keyed: SubstituteKeyed, { id, number, name }: PartNamed): SubstituteKeyed {
  return { ...keyed, part: { id, text: `${number} ${name}`, number }, offeredId: id };
}

/**
 * The same with a part that is on the record. What the record says of it need not be keyed again, and can be keyed over; what was keyed
 * of the old one, and where it goes, holds whichever part is chosen.
 */
export function withChosen(keyed: SubstituteKeyed, { part, path, conditions }: CandidateRow): SubstituteKeyed {
  const evidence = path.at(-1)?.evidence ?? nothingKeyed.evidence;
  return { ...withPart(keyed, part), evidence, deviation: conditions.join('; ').slice(0, wordsMax) };
}
