import type { CountMark, CountSettings, EditCountSettings } from '@corewright/contracts/counting';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import type { Reader } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { placePath } from '../../stores/place-words.js';

const selectSettings = `
  SELECT trim_scale(scarce_at_most)::text AS "scarceAtMost", scarce_days AS "scarceDays", usual_days AS "usualDays", version FROM count_settings`;
const selectTerms = `
  SELECT place_id AS "placeId", place_kind AS "placeKind", coalesce(${placePath('place_id')}, 'every ' || place_kind) AS words, days
    FROM count_terms ORDER BY place_kind IS NULL, 3`;
export const lockCountSettings = 'SELECT 1 AS there FROM count_settings FOR NO KEY UPDATE';
const update = 'UPDATE count_settings SET scarce_at_most = $1, scarce_days = $2, usual_days = $3, version = version + 1';
const clearTerms = 'DELETE FROM count_terms';
const insertTerm = 'INSERT INTO count_terms (id, place_id, place_kind, days) VALUES ($1, $2, $3, $4)';
const partIsThere = 'SELECT name FROM parts WHERE id = $1';
const clearMark = 'DELETE FROM count_marks WHERE part_id = $1';
const insertMark = 'INSERT INTO count_marks (part_id, scarce) VALUES ($1, $2)';
const selectMark = 'SELECT scarce FROM count_marks WHERE part_id = $1';

/** How often what is counted. */
export async function countSettings(reader: Reader): Promise<CountSettings> {
  const settings = await reader.row<Omit<CountSettings, 'terms'> & Record<string, unknown>>(selectSettings);
  invariant(settings, 'the settings came with the migration');
  return { ...settings, terms: await reader.rows<CountSettings['terms'][number] & Record<string, unknown>>(selectTerms) };
}

export async function editCountSettings(transaction: Transaction, input: EditCountSettings): Promise<Result<CountSettings>> {
  await transaction.row(lockCountSettings);
  const unseen = whyNotCurrent(transaction.command, await countSettings(transaction));
  return unseen === null ? writeCountSettings(transaction, input) : refused(unseen);
}

/** Writes how often what is counted, whatever was said before; the settings are locked. */
export async function writeCountSettings(transaction: Transaction, input: EditCountSettings): Promise<Result<CountSettings>> {
  const about = input.terms.map(({ placeId, placeKind }) => placeId ?? placeKind);
  if (new Set(about).size !== about.length)
    return refused(badInput('terms', 'A place or a kind of place stands there twice. Say once how often it is counted.'));
  await transaction.rows(update, [input.scarceAtMost, input.scarceDays, input.usualDays]);
  await transaction.rows(clearTerms);
  for (const { placeId, placeKind, days } of input.terms) await transaction.rows(insertTerm, [newId(), placeId, placeKind, days]);
  transaction.news('counts', 'settings', 'today');
  return done(await countSettings(transaction));
}

/** Marks a part as scarce or as not scarce, whatever there is of it; or takes the mark off. */
export async function editCountMark(
  transaction: Transaction,
  partId: string,
  scarce: boolean | null,
): Promise<Result<CountMark>> {
  if ((await transaction.row(partIsThere, [partId])) === null) return refused(notFound('This part'));
  await transaction.rows(clearMark, [partId]);
  if (scarce !== null) await transaction.rows(insertMark, [partId, scarce]);
  transaction.news('counts', `part:${partId}`, 'today');
  return done(await countMark(transaction, partId));
}

/** How often a part is counted, and by what. */
export async function countMark(reader: Reader, partId: string): Promise<CountMark> {
  const { scarceAtMost, scarceDays } = await countSettings(reader);
  const mark = await reader.row<{ scarce: boolean }>(selectMark, [partId]);
  if (mark?.scarce === true) return { scarce: true, words: `Marked as scarce: counted every ${daysOf(scarceDays)}.` };
  if (mark?.scarce === false) return { scarce: false, words: 'Marked as not scarce: counted with the place in which it lies.' };
  return {
    scarce: null,
    words: `Scarce while ${scarceAtMost} or fewer of ours are in stores; then counted every ${daysOf(scarceDays)}.`,
  };
}

export function daysOf(days: number): string {
  return days === 1 ? 'day' : `${days} days`;
}
