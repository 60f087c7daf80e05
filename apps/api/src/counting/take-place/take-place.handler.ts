import type { PlaceTaken, TakePlace } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { addCount, beginAlone } from '../begin-count/begin-count.handler.js';
import { dateOf } from '../enter/date-of-entry.js';
import { type CountRow, lockCountAt, openCountAt, type PlaceCounted, placeToCount } from '../open-count.js';

const placeByCode = "SELECT subject_id AS id FROM codes WHERE code = $1 AND kind = 'P' AND voided_at IS NULL";
const selectTakings = `
  SELECT person_id AS "personId", display_name AS by, joined FROM count_takings JOIN people ON people.id = person_id
   WHERE count_id = $1 AND place_id = $2 ORDER BY joined, occurred_at`;
const insertTaking = `
  INSERT INTO count_takings (id, count_id, command_key, place_id, person_id, joined, occurred_at) VALUES ($1, $2, $3, $4, $5, $6, $7)`;

interface Taking {
  personId: string;
  by: string;
  joined: boolean;
}

/** Somebody stands at a place and counts there: they take it, or are told who has. */
@Injectable()
export class TakePlaceHandler {
  async handle(transaction: Transaction, input: TakePlace): Promise<Result<PlaceTaken>> {
    const read = readCode(input.code, ['P']);
    if (!read.ok) return read;
    const coded = await transaction.row<{ id: string }>(placeByCode, [read.value.code]);
    if (coded === null) return refused(await whyNothingOpens(transaction, read.value));
    const place = await placeToCount(transaction, coded.id);
    if (!place.ok) return place;
    if (input.countId === undefined) await beginWhereNobodyCounts(transaction, place.value, input);
    const count = await lockCountAt(transaction, place.value, input.countId, 'alone');
    if (!count.ok) return count;
    return take(transaction, count.value, place.value, input);
  }
}

/** Scan first: where nobody counts, a scan of the place begins a count of it. */
async function beginWhereNobodyCounts(transaction: Transaction, place: PlaceCounted, { occurredAt }: TakePlace): Promise<void> {
  if ((await openCountAt(transaction, place.id)) !== null) return;
  await beginAlone(transaction);
  if ((await openCountAt(transaction, place.id)) !== null) return;
  await addCount(transaction, newId(), { placeId: place.id, partId: null }, occurredAt);
}

async function take(
  transaction: Transaction,
  count: CountRow,
  place: PlaceCounted,
  input: TakePlace,
): Promise<Result<PlaceTaken>> {
  const dated = dateOf({
    said: input.occurredAt ?? transaction.command.madeAt,
    now: new Date(),
    begunAt: count.begunAt,
    knownSince: null,
  });
  if (!dated.ok) return dated;
  const takings = await takingsOf(transaction, count.id, place.id);
  const { person } = transaction.command;
  const others = takings.filter(({ personId }) => personId !== person.id).map(({ by }) => by);
  const isThere = takings.some(({ personId }) => personId === person.id);
  if (!isThere && others.length > 0 && !input.join) return refused(takenBy(others, place));
  if (!isThere) await writeTaking(transaction, count.id, place.id, { joined: takings.length > 0, at: dated.value.at });
  const with_ = others.length === 0 ? '' : ` together with ${others.join(' and ')}: what both of you count is shown as two`;
  const also = dated.value.words === '' ? '' : ` ${dated.value.words}`;
  return done({
    act: 'place taken',
    count: { id: count.id, number: count.number },
    place: { id: place.id, code: place.code, name: place.path },
    words: `Count ${count.number}: you count ${place.path}${with_}. Scan each thing and key how many; then say that all is scanned.${also}`,
  });
}

export function takingsOf(reader: Reader, countId: string, placeId: string): Promise<Taking[]> {
  return reader.rows<Taking & Record<string, unknown>>(selectTakings, [countId, placeId]);
}

export async function writeTaking(
  transaction: Transaction,
  countId: string,
  placeId: string,
  { joined, at }: { joined: boolean; at: string },
): Promise<void> {
  const { key, person } = transaction.command;
  await transaction.rows(insertTaking, [newId(), countId, key, placeId, person.id, joined, at]);
  transaction.news('counts');
}

function takenBy(others: readonly string[], { path }: PlaceCounted): Refusal {
  return {
    status: 409,
    code: 'counted-by-another',
    title: `${others.join(' and ')} ${others.length === 1 ? 'counts' : 'count'} here`,
    detail: `${path} is taken. Take another place, or scan this one once more to count here too: what both of you count is then shown as two, and never added up by itself.`,
    values: { countedBy: others },
  };
}
