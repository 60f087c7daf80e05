import { type RowValues, saysTheSame } from './row-values.js';

/** A command that is on its way. It keeps its key through every retry, so that the server applies it once. */
export interface RowCommand {
  readonly key: string;
  readonly values: RowValues;
  /** The version that an edit was made on; null adds the row. */
  readonly version: number | null;
  /** When it was made, as an ISO instant. */
  readonly madeAt: string;
}

export type RowProblem =
  | { readonly kind: 'refused'; readonly title: string; readonly detail: string }
  /** Somebody else has changed the row since: both readings are kept until a person chooses. */
  | { readonly kind: 'conflict'; readonly theirs: RowValues; readonly version: number };

/**
 * A row between keyboard and server. It lives in the browser's own store until the server has answered, so that it
 * survives a reload, a lost connection and a closed tab.
 */
export interface RowDraft {
  /** The id of the row's thing, made here. */
  readonly id: string;
  readonly loadId: string;
  /** Its place in the load's list, from 1. */
  readonly position: number;
  readonly values: RowValues;
  /** What the server has of it. */
  readonly base: { readonly version: number; readonly values: RowValues } | null;
  readonly command: RowCommand | null;
  readonly problem: RowProblem | null;
  /** A person has sent it, but a part or a place in it can only be looked up when the server answers again. */
  readonly awaitsLookup: boolean;
}

/** A row that begins: a new one, or an edit of one that the server has. */
export function beginDraft(begin: {
  id: string;
  loadId: string;
  position: number;
  values: RowValues;
  base: RowDraft['base'];
}): RowDraft {
  return { ...begin, command: null, problem: null, awaitsLookup: false };
}

/** The row after something was keyed. A refusal is gone with the first key; a conflict stays until it is settled. */
export function keyed(draft: RowDraft, values: RowValues): RowDraft {
  return { ...draft, values, problem: draft.problem?.kind === 'conflict' ? draft.problem : null, awaitsLookup: false };
}

/** Whether the row says something that the server has not been told. */
export function isDirty(draft: RowDraft): boolean {
  return draft.base === null || !saysTheSame(draft.values, draft.base.values);
}

/** Whether the draft has nothing left to say and may be forgotten. */
export function isSettled(draft: RowDraft): boolean {
  return draft.command === null && draft.problem === null && draft.base !== null && !isDirty(draft);
}

/** The row with its next command, the waiting one first: a command whose fate is unknown is repeated, never replaced. */
export function prepared(draft: RowDraft, make: { key: string; madeAt: string }): RowDraft {
  if (draft.command !== null || draft.problem !== null || !isDirty(draft)) return draft;
  return {
    ...draft,
    awaitsLookup: false,
    command: { key: make.key, madeAt: make.madeAt, values: draft.values, version: draft.base?.version ?? null },
  };
}

/** The row after the server has taken its command. What was keyed meanwhile is still dirty and goes next. */
export function accepted(draft: RowDraft, version: number): RowDraft {
  if (draft.command === null) return draft;
  return { ...draft, base: { version, values: draft.command.values }, command: null, problem: null };
}

/** The row after a refusal: everything keyed stays, with the reason beside it. */
export function refused(draft: RowDraft, reason: { title: string; detail: string }): RowDraft {
  return { ...draft, command: null, problem: { kind: 'refused', ...reason } };
}

/** The row after it was found changed by somebody else. */
export function conflicted(draft: RowDraft, theirs: RowValues, version: number): RowDraft {
  return { ...draft, command: null, problem: { kind: 'conflict', theirs, version } };
}

/** A conflict settled: mine is sent on top of theirs, or theirs is taken over. */
export function settled(draft: RowDraft, choice: 'mine' | 'theirs'): RowDraft {
  if (draft.problem?.kind !== 'conflict') return draft;
  const base = { version: draft.problem.version, values: draft.problem.theirs };
  return { ...draft, base, values: choice === 'mine' ? draft.values : base.values, problem: null };
}
