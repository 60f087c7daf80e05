import type { UseBy } from '@corewright/contracts/consumables';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf } from '../../stores/ledger.js';
import { foundAgain } from '../../stores/not-there/found-again.js';
import {
  type ConsumableRow,
  type Full,
  fullContainersOf,
  lockConsumable,
  type Opened,
  openContainersOf,
} from '../consumable.queries.js';
import { openContainer, openWords } from '../containers/open-container.js';
import { decideUse, type UseStop } from './decide-use.js';

export interface UseAsked {
  /** locked */
  job: { id: string; state: string; customerId: string | null };
  partId: string;
  /** what was scanned or chosen: an open container, or a lot of full ones; null: whichever is open */
  thingId: string | null;
  uses: number;
  openOne: boolean;
  reason: string | null;
  occurredAt: string | undefined;
  today: string;
}

export interface Used {
  id: string;
  container: { id: string; code: string; name: string };
  consumable: ConsumableRow;
  useBy: UseBy;
  /** what else came of it: what was opened, what was found again */
  words: string[];
}

export type UseOutcome = { ok: true; value: Used } | { ok: false; error: UseStop };

const insertUse = `
  INSERT INTO consumable_uses (id, command_key, job_id, part_id, kind, thing_id, uses, use_minor, uses_per_container, currency, override_reason, person_id, occurred_at)
  VALUES ($1, $2, $3, $4, 'use', $5, $6, $7, $8, $9, $10, $11, coalesce($12::timestamptz, now()))`;

/** So many uses of a consumable on a job that is locked: out of what was scanned where it is open, else out of the open one that is to be used first. */
export async function useOnJob(transaction: Transaction, asked: UseAsked): Promise<UseOutcome> {
  const consumable = await lockConsumable(transaction, asked.partId);
  if (consumable === null) return { ok: false, error: { ...notFound('This consumable'), answer: null } };
  const [open, full] = await Promise.all([
    openContainersOf(transaction, [asked.partId], asked.today),
    fullContainersOf(transaction, [asked.partId], asked.today),
  ]);
  const chosen = open.find(({ thing }) => thing.id === asked.thingId) ?? open[0] ?? null;
  if (chosen === null && asked.openOne && consumable.charged === 'by use')
    return openAndUse(transaction, consumable, asked, full);
  return takeOut(transaction, consumable, asked, { chosen, hasFull: full.some(isThere), words: [] });
}

const isThere = ({ free }: Full): boolean => free !== '0';

/** None was open: one of the full ones is, and it is used. */
async function openAndUse(
  transaction: Transaction,
  consumable: ConsumableRow,
  asked: UseAsked,
  full: readonly Full[],
): Promise<UseOutcome> {
  const from = full.find(({ thing }) => thing.id === asked.thingId) ?? full.find(isThere) ?? null;
  if (from === null) return takeOut(transaction, consumable, asked, { chosen: null, hasFull: false, words: [] });
  const { today } = asked;
  const opened = await openContainer(transaction, consumable, {
    thingId: from.thing.id,
    placeId: null,
    openedOn: today,
    today,
    label: '',
  });
  if (!opened.ok) return { ok: false, error: { ...opened.error, answer: null } };
  const open = await openContainersOf(transaction, [asked.partId], today);
  const chosen = open.find(({ thing }) => thing.id === opened.value.thing.id) ?? null;
  return takeOut(transaction, consumable, asked, { chosen, hasFull: true, words: [`One was opened. ${opened.value.words}`] });
}

async function takeOut(
  transaction: Transaction,
  consumable: ConsumableRow,
  asked: UseAsked,
  { chosen, hasFull, words }: { chosen: Opened | null; hasFull: boolean; words: string[] },
): Promise<UseOutcome> {
  const thing = chosen === null ? null : await lockOf(transaction, chosen.thing.id);
  const container = chosen === null || thing === null ? null : { ...thing, words: openWords(chosen), useBy: chosen.useBy };
  const decision = decideUse({ job: asked.job, consumable, container, hasFull, hasReason: asked.reason !== null });
  if (!decision.ok) return decision;
  if (chosen === null || thing === null) return { ok: false, error: { ...notFound('This container'), answer: null } };
  const id = newId();
  const { key, person } = transaction.command;
  // A reason is kept where one was needed: what was keyed beside a good container says nothing.
  const reason = chosen.useBy.past || thing.heldBackReason !== null ? asked.reason : null;
  const { partId, useMinor, usesPerContainer, currency } = consumable;
  await transaction.rows(insertUse, [
    id,
    key,
    asked.job.id,
    partId,
    thing.id,
    asked.uses,
    useMinor,
    usesPerContainer,
    currency,
    reason,
    person.id,
    asked.occurredAt ?? null,
  ]);
  const found = await foundAgain(transaction, thing, 'used on a job');
  if (found !== null) words.push(found);
  transaction.news(`job:${asked.job.id}`, 'jobs', `thing:${thing.id}`);
  return done({ id, container: chosen.thing, consumable, useBy: chosen.useBy, words }) as UseOutcome;
}

const lockRow = `
  SELECT used.id, used.job_id AS "jobId", used.kind, used.thing_id AS "thingId", parts.name, used.uses,
         EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id) AS "putRight"
    FROM consumable_uses AS used JOIN parts ON parts.id = used.part_id WHERE used.id = $1`;
const lockJob = 'SELECT 1 FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const insertPutRight = `
  INSERT INTO consumable_uses (id, command_key, job_id, part_id, kind, puts_right_id, why, person_id, occurred_at)
  SELECT $1, $2, job_id, part_id, 'put right', id, $4, $5, now() FROM consumable_uses WHERE id = $3`;

export interface UseRow {
  id: string;
  jobId: string;
  kind: string;
  thingId: string | null;
  name: string;
  uses: number | null;
  putRight: boolean;
}

/** The row of a use, or of a charge by rule that a job does not bear; null where it is none. */
export function useRow(transaction: Transaction, id: string): Promise<UseRow | null> {
  return transaction.row<UseRow & Record<string, unknown>>(lockRow, [id]);
}

/** A second row, by which the first counts no more. Both stay. @returns the first */
export async function putUseRight(
  transaction: Transaction,
  id: string,
  why: string,
): Promise<Result<UseRow & { rowId: string }>> {
  const first = await useRow(transaction, id);
  if (first === null || first.kind === 'put right') return refused(notFound('This row'));
  await transaction.row(lockJob, [first.jobId]);
  const row = await useRow(transaction, id);
  if (row === null || row.putRight)
    return refused({
      status: 409,
      code: 'put-right-already',
      title: 'Put right already',
      detail: 'Somebody has put this row right meanwhile: it counts no more. Nothing was changed.',
    });
  const rowId = newId();
  const { key, person } = transaction.command;
  await transaction.rows(insertPutRight, [rowId, key, id, why, person.id]);
  transaction.news(`job:${row.jobId}`, 'jobs', ...(row.thingId === null ? [] : [`thing:${row.thingId}`]));
  return done({ ...row, rowId });
}
