import type { RowValues } from './row-values.js';

/** A row that an act touched, and what it said before; null where the act began it. */
export interface TouchedRow {
  readonly id: string;
  readonly before: RowValues | null;
}

/** Something done to rows in one go, as it can be taken back in one go. */
export interface RowAct {
  readonly id: string;
  /** What was done, as a person would say it: "row 12 keyed", "8 more like row 12". */
  readonly words: string;
  readonly rows: readonly TouchedRow[];
}

const KEPT_ACTS = 30;

/** The acts with one more row: it joins its act where that is there. */
export function withRow(acts: readonly RowAct[], act: { id: string; words: string }, row: TouchedRow): readonly RowAct[] {
  const known = acts.find((each) => each.id === act.id);
  if (known === undefined) return [...acts, { ...act, rows: [row] }].slice(-KEPT_ACTS);
  if (known.rows.some((each) => each.id === row.id)) return acts;
  return acts.map((each) => (each === known ? { ...known, rows: [...known.rows, row] } : each));
}

export type TakenBack =
  | { readonly kind: 'drop'; readonly id: string }
  | { readonly kind: 'strike'; readonly id: string }
  | { readonly kind: 'key'; readonly id: string; readonly values: RowValues };

/** What takes an act back, the last row first: one that it began is struck out, or dropped where the server never had it; one that it changed says again what it said. */
export function takingBack(act: RowAct, isOnServer: (id: string) => boolean): readonly TakenBack[] {
  return act.rows.toReversed().map(({ id, before }) => {
    if (before !== null) return { kind: 'key', id, values: before };
    return isOnServer(id) ? { kind: 'strike', id } : { kind: 'drop', id };
  });
}
