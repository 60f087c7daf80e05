/**
 * A change that is refused, in words for the person at the bench. `code` is stable and part of the contract;
 * `detail` says what to do next; `values` are the offending values.
 */
export interface Refusal {
  status: number;
  code: string;
  title: string;
  detail: string;
  values?: Record<string, unknown>;
}

export type Result<T> = { ok: true; value: T } | { ok: false; error: Refusal };

export function done<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function refused(error: Refusal): { ok: false; error: Refusal } {
  return { ok: false, error };
}

/** Thrown where a read cannot be answered or deep code must stop; the problem filter writes it out. */
export class RefusalError extends Error {
  override readonly name = 'RefusalError';
  constructor(readonly refusal: Refusal) {
    super(refusal.detail);
  }
}

export function notFound(what: string): Refusal {
  return {
    status: 404,
    code: 'not-found',
    title: 'Not found',
    detail: `${what} is not in the books. It may have been struck out, or the address is wrong.`,
  };
}

export function badInput(path: string, words: string): Refusal {
  return { status: 422, code: 'bad-input', title: 'That cannot be taken', detail: words, values: { fields: [{ path, words }] } };
}

/** The row was changed by someone else since it was read. `current` is the row as it is now. */
export function changedMeanwhile(current: unknown): Refusal {
  return {
    status: 412,
    code: 'changed-meanwhile',
    title: 'Changed meanwhile',
    detail:
      'Someone else changed this since you opened it. Nothing was overwritten: look at what it says now, then key your change again.',
    values: { current },
  };
}

/** A bug, not an input: stops the request with a 500 and a line in the log. */
export function invariant(condition: unknown, message: string): asserts condition {
  if (!condition) throw new Error(`Invariant broken: ${message}`);
}
