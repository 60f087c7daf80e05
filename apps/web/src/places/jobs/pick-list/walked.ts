import type { JobKit, PickList, PickRow, PickStop } from '@corewright/contracts/pick-list';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  zero,
} from '@corewright/quantities/decimal';

/** A row of the list as it stood when it was last seen, with what was taken there since the list was opened. */
export interface WalkedRow {
  key: string;
  place: PickStop['place'];
  row: PickRow;
  /** nought: nothing is left to take here */
  left: string;
  picked: string;
}

/** A list that is followed: what it says now, and what was taken from it. */
export interface Walked {
  list: PickList;
  rows: readonly WalkedRow[];
}

/** The list as it is first seen. */
export function beginWalk(list: PickList): Walked {
  return { list, rows: rowsOf(list) };
}

/**
 * The list as it is now, with those rows of it that were taken meanwhile. A row is taken as far as it shrank and its job's tray, or its unit, has more
 * for the same lines; what went elsewhere only leaves the list.
 */
export function walkOn(before: Walked, list: PickList): Walked {
  const now = new Map(rowsOf(list).map((row) => [row.key, row]));
  const gained = gainsOf(before.list.jobs, list.jobs);
  const kept = before.rows.flatMap((row): WalkedRow[] => {
    const there = now.get(row.key);
    const left = decimalFrom(there?.left ?? '0');
    const less = notBelowZero(subtractDecimals(decimalFrom(row.left), left));
    const more = notBelowZero(subtractDecimals(left, decimalFrom(row.left)));
    const taken = takeGain(gained, row.row, less);
    const picked = addDecimals(notBelowZero(subtractDecimals(decimalFrom(row.picked), more)), taken);
    if (there === undefined && picked === zero) return [];
    return [{ ...(there ?? row), left: formatDecimal(left), picked: formatDecimal(picked) }];
  });
  const byKey = new Map([...now, ...kept.map((row): [string, WalkedRow] => [row.key, row])]);
  const order = together(
    kept.map(({ key }) => key),
    [...now.keys()],
  );
  return { list, rows: order.flatMap((key) => byKey.get(key) ?? []) };
}

/** The rows by their places, in walking order. */
export function stopsOf({ rows }: Walked): { place: PickStop['place']; rows: WalkedRow[] }[] {
  const stops = new Map<string, { place: PickStop['place']; rows: WalkedRow[] }>();
  for (const row of rows) {
    const stop = stops.get(row.place.id) ?? { place: row.place, rows: [] };
    stop.rows.push(row);
    stops.set(row.place.id, stop);
  }
  return [...stops.values()];
}

function rowsOf({ stops }: PickList): WalkedRow[] {
  return stops.flatMap(({ place, rows }) =>
    rows.map((row) => ({ key: `${place.id} ${row.thing.id} ${row.jobId}`, place, row, left: row.quantity, picked: '0' })),
  );
}

/** By line: how many more are in the tray or in the unit. */
function gainsOf(before: readonly JobKit[], now: readonly JobKit[]): Map<string, Decimal> {
  const had = new Map(before.flatMap(({ taken }) => taken.map(({ lineId, quantity }) => [lineId, decimalFrom(quantity)])));
  return new Map(
    now.flatMap(({ taken }) =>
      taken.map(({ lineId, quantity }): [string, Decimal] => [
        lineId,
        notBelowZero(subtractDecimals(decimalFrom(quantity), had.get(lineId) ?? zero)),
      ]),
    ),
  );
}

/** So much of what a row lost is found with its lines; each gain is found once. */
function takeGain(gained: Map<string, Decimal>, { lines }: PickRow, less: Decimal): Decimal {
  let taken = zero;
  for (const { lineId } of lines) {
    const gain = gained.get(lineId) ?? zero;
    const part = lesserDecimal(gain, subtractDecimals(less, taken));
    gained.set(lineId, subtractDecimals(gain, part));
    taken = addDecimals(taken, part);
  }
  return taken;
}

/** Both in one order: what is gone from the second stays behind what it stood behind. */
function together(before: readonly string[], now: readonly string[]): string[] {
  const merged = [...now];
  let last = -1;
  for (const key of before) {
    const at = merged.indexOf(key);
    if (at === -1) merged.splice(last + 1, 0, key);
    last = at === -1 ? last + 1 : at;
  }
  return merged;
}
