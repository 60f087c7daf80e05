import type { ScanAnswer } from '@corewright/contracts/scanning';
import { type ApiProblem, asProblem } from '../api/problem.js';
import { sayCode } from './acts.js';

/** What the last scan came to. One stands in the strip at a time. */
export type Answer = {
  /** grows by one with each answer */
  readonly turn: number;
  readonly at: number;
  readonly code: string | null;
  readonly tone: 'plain' | 'under way' | 'done' | 'refused';
  readonly word: string;
  readonly title: string;
  readonly detail: string;
  /** the command behind it, for taking back and for its quantity */
  readonly key: string | null;
  /** whether digits keyed now are its quantity */
  readonly canBeCorrected: boolean;
  /** where to go on from it */
  readonly to?: { readonly href: string; readonly words: string };
  /** whether it is done and can be undone */
  readonly canBeTakenBack: boolean;
};

/** An answer before it is given. */
export type Said = Omit<Answer, 'turn' | 'at' | 'canBeCorrected' | 'canBeTakenBack'>;

/** What a scan that only looks has found. */
export function lookAnswer(answer: ScanAnswer, fromMemory: boolean): Said {
  const facts = [answer.detail, amountOf(answer), answer.where, answer.warning ?? ''];
  const detail = facts.filter((fact) => fact !== '').join('; ');
  const memory = fromMemory ? ' No network: as last seen on this device.' : '';
  if (answer.voided)
    return {
      code: answer.code,
      tone: 'refused',
      word: 'Void label',
      title: answer.name,
      detail: answer.warning ?? detail,
      key: null,
    };
  return { code: answer.code, tone: 'plain', word: answer.kind, title: answer.name, detail: `${detail}${memory}`, key: null };
}

/** How many are held and free, of what can be held; a job says how far it is. */
function amountOf({ kind, quantity, free }: ScanAnswer): string {
  if (quantity === '') return free;
  if (['unit', 'lot', 'component', 'unsorted'].includes(kind)) return `${quantity} held, ${free} free`;
  return [quantity, free].filter((words) => words !== '').join(', ');
}

/** A code that could not be looked up. */
export function faultAnswer(code: string, thrown: unknown): Said {
  const problem = asProblem(thrown);
  const to = whereNext(code, problem);
  if (to !== null)
    return {
      code,
      tone: 'refused',
      word: problem.code === 'code-blank' ? 'Blank label' : 'Void label',
      title: problem.code === 'code-blank' ? 'Not in use yet' : 'It opens nothing any more',
      detail: problem.detail,
      key: null,
      to,
    };
  if (problem.code !== 'no-answer')
    return { code, tone: 'refused', word: 'Not found', title: problem.title, detail: problem.detail, key: null };
  return {
    code,
    tone: 'refused',
    word: 'Cannot look',
    title: 'No network, and this device has not seen it before',
    detail: 'Scans that move stock onto a known job or place go on and are kept.',
    key: null,
  };
}

/** A blank label has a page of what can be done with it; of a void one the thing opens that it was on, by the label that it bears now. */
function whereNext(code: string, { code: reason, values }: ApiProblem): NonNullable<Answer['to']> | null {
  if (reason === 'code-blank') return { href: blankPath(code), words: 'What can be done with it' };
  const { nowCode, nowId } = values;
  if (reason !== 'code-void' || typeof nowCode !== 'string' || typeof nowId !== 'string') return null;
  return { href: `/stores/${nowCode.startsWith('P') ? 'places' : 'things'}/${nowId}`, words: `Open ${sayCode(nowCode)}` };
}

/** The page of a blank label. */
export function blankPath(code: string): string {
  return `/labels/${code}/blank`;
}

/** Something was to be done to a scan whose fate is not known yet. */
export function unanswered(code: string): Said {
  return {
    code,
    tone: 'refused',
    word: 'Not yet',
    title: 'The server has not answered that scan',
    detail: 'It may have been done. Say it again when the network is back; the scan itself is kept.',
    key: null,
  };
}

export const notNone: Said = {
  code: null,
  tone: 'refused',
  word: 'Not done',
  title: 'Nought is no quantity',
  detail: 'To undo a scan, take it back. Nothing was changed.',
  key: null,
};

export const backToLook: Said = {
  code: null,
  tone: 'plain',
  word: 'Look',
  title: 'Back to look',
  detail: 'Nothing was scanned for three minutes. A scan here only looks.',
  key: null,
};

export const unclearScan: Said = {
  code: null,
  tone: 'refused',
  word: 'Not read',
  title: 'The scan did not come through whole',
  detail: 'Scan it once more, or key the code. Nothing was changed.',
  key: null,
};

export const nothingToTakeBack: Said = {
  code: null,
  tone: 'refused',
  word: 'Nothing',
  title: 'Nothing to take back on this device',
  detail: 'Older acts are taken back from the list of the job.',
  key: null,
};

/** Nothing waits for such a choice. */
export function noChoice(choice: number): Said {
  return {
    code: null,
    tone: 'refused',
    word: 'Nothing',
    title: `There is no choice ${choice} now`,
    detail: 'Open the bench to see what waits for a decision.',
    key: null,
  };
}

/** Digits after no scan, or too long after it. */
export function ofNoScan(keyed: string): Said {
  return {
    code: null,
    tone: 'refused',
    word: 'Not done',
    title: `${keyed} belongs to no scan`,
    detail: 'Scan the thing first, then key how many. Nothing was changed.',
    key: null,
  };
}

/** A command on its way. */
export function keptHere(code: string, kept: { readonly words: string; readonly key: string }): Said {
  return {
    code,
    tone: 'under way',
    word: 'Kept',
    title: kept.words,
    detail: 'Kept on this device; waiting for the server.',
    key: kept.key,
  };
}

/** A scan was taken back before it was sent. */
export function hadNotLeft(code: string, title: string): Said {
  return { code, tone: 'done', word: 'Taken back', title, detail: 'It had not left this device.', key: null };
}

/** What was refused changed nothing. */
export function wasRefused(code: string): Said {
  return {
    code,
    tone: 'plain',
    word: 'Nothing',
    title: 'That scan was refused',
    detail: 'So there is nothing to take back.',
    key: null,
  };
}
