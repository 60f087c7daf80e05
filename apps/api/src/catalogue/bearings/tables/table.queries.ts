import type { BearingDimensions, SuffixShown } from '@corewright/contracts/bearings';
import type { Command } from '../../../platform/commands/command.js';
import type { Reader } from '../../../platform/database/database.js';
import { rowsInto } from '../../../platform/database/many-rows.js';
import { newId } from '../../../platform/new-id.js';
import { columns } from '../bearing.queries.js';

/** In the log a suffix stands after its maker and a bar, a bearing alone. */
export const keyOfSuffix = (maker: string, suffix: string): string => `${maker}|${suffix}`;

const changedBy = (key: string): string => `
  coalesce((SELECT people.display_name FROM bearing_changes JOIN people ON people.id = person_id
             WHERE row_key = ${key} ORDER BY recorded_at DESC LIMIT 1), '') AS by`;
const selectOwn = `
  SELECT ${columns}, ${changedBy('designation')} FROM bearing_dimensions WHERE NOT shipped ORDER BY designation`;
/** Enough to see that a number is there; more letters narrow it. */
const shippedMax = 50;
const selectShipped = `
  SELECT ${columns} FROM bearing_dimensions WHERE shipped AND starts_with(replace(designation, ' ', ''), $1) ORDER BY length(designation), designation LIMIT ${shippedMax}`;
const selectSuffixes = `
  SELECT maker, suffix, aspect, value, words, source, shipped, ${changedBy("maker || '|' || suffix")}
    FROM bearing_suffixes ORDER BY shipped, maker, suffix`;

/** Who keyed, brought in or struck out a row of the workshop's own, and what stood in it. */
export const intoChanges = rowsInto(
  'bearing_changes',
  'id uuid',
  'command_key uuid',
  'row_key text',
  'struck_out boolean',
  'row json',
  'why text',
  'person_id uuid',
);

/** @param why it was struck out; null where it was written */
export function changeOf({ key, person }: Command, rowKey: string, row: unknown, why: string | null): unknown[] {
  return [newId(), key, rowKey, why !== null, JSON.stringify(row), why ?? '', person.id];
}

export type OwnRow = BearingDimensions & { by: string };
export type SuffixRowKept = Omit<SuffixShown, 'contradictions'>;

export function ownDimensions(reader: Reader): Promise<OwnRow[]> {
  return reader.rows<OwnRow & Record<string, unknown>>(selectOwn);
}

/** Shipped rows whose designation begins so; none for nothing. */
export async function shippedFrom(reader: Reader, beginning: string): Promise<BearingDimensions[]> {
  return beginning === '' ? [] : reader.rows<BearingDimensions>(selectShipped, [beginning]);
}

export function suffixesKept(reader: Reader): Promise<SuffixRowKept[]> {
  return reader.rows<SuffixRowKept & Record<string, unknown>>(selectSuffixes);
}
