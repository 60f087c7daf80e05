import type { RecordRelation, RelationShown } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { rowsInto, rowsTogether } from '../../platform/database/many-rows.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { bearingsOf, differencesIn, type PartBearings } from '../bearings/part-bearings.js';
import { type LaterStep, type LiveRelation, whyNotRelated } from './decide-relation.js';
import { laterSupersessions, type PartKnown, partsNamed, relationsOfGroup } from './relation.queries.js';

/** Two that record supersessions at once could each see no circle and close one together. */
const oneAtATime = `SELECT pg_advisory_xact_lock(hashtext('corewright supersessions'))`;
const numberOfTarget = `
  coalesce((SELECT number FROM part_numbers WHERE part_id = relations.to_part_id ORDER BY is_main DESC, id LIMIT 1), '') AS "toNumber"`;
const selectLive = `
  SELECT kind, from_part_id AS "fromId", to_part_id AS "toId", ${numberOfTarget} FROM relations
   WHERE withdrawn_at IS NULL AND ((from_part_id = $1 AND (kind = 'supersession' OR to_part_id = ANY ($2::uuid[])))
                                   OR (to_part_id = $1 AND from_part_id = ANY ($2::uuid[])))`;
/** Without a limit: a circle that is not seen is a circle that is recorded. What is behind a part is seldom a dozen steps. */
const selectLater = `
  ${laterSupersessions}
  SELECT from_part_id AS "fromId", to_part_id AS "toId", ${numberOfTarget} FROM later AS relations`;
export const intoRelations = rowsInto(
  'relations',
  'id uuid',
  'group_id uuid',
  'kind text',
  'from_part_id uuid',
  'to_part_id uuid',
  'is_kit boolean',
  'conditions text',
  'since text',
  'evidence_kind text',
  'evidence_words text',
  'accepted_by uuid',
  'doubt text',
);

/** From before supersessions are read until the transaction ends nobody else records one. */
export function aloneWithSupersessions(transaction: Transaction): void {
  transaction.send(oneAtATime, []);
}

/** For each part that is called the same: in what the table of bearings says that it differs. Empty for all other kinds. */
export async function doubtsAbout(
  fromId: string,
  { kind, toPartIds }: RecordRelation,
  bearings: () => Promise<PartBearings>,
): Promise<string[]> {
  if (kind !== 'same as') return [];
  const known = await bearings();
  return toPartIds.map((toId) => differencesIn(known, fromId, toId).join(' '));
}

/** What is written of a relation that was decided, a row for each part that it leads to. */
export function rowsOfRelation(
  fromId: string,
  asked: RecordRelation,
  { groupId, personId, doubts }: { groupId: string; personId: string; doubts: readonly string[] },
): unknown[][] {
  const { kind, toPartIds, conditions, since, evidence } = asked;
  const isKit = toPartIds.length > 1;
  return toPartIds.map((toId, index) => [
    newId(),
    groupId,
    kind,
    fromId,
    toId,
    isKit,
    conditions,
    since,
    evidence.kind,
    evidence.words,
    personId,
    doubts[index] ?? '',
  ]);
}

/** Puts a relation on the record, with its evidence and who accepted it. */
@Injectable()
export class RecordRelationHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, fromId: string, asked: RecordRelation): Promise<Result<{ relations: RelationShown[] }>> {
    // Sent first, so whatever is read below is read under it.
    if (asked.kind === 'supersession') aloneWithSupersessions(transaction);
    const [parts, live, later, today] = await Promise.all([
      partsNamed(transaction, [fromId, ...asked.toPartIds]),
      transaction.rows<LiveRelation & Record<string, unknown>>(selectLive, [fromId, asked.toPartIds]),
      transaction.rows<LaterStep & Record<string, unknown>>(selectLater, [asked.toPartIds]),
      this.clock.today(transaction),
    ]);
    const from = parts.get(fromId);
    if (from === undefined) return refused(notFound('That part'));
    const to = asked.toPartIds.map((id) => parts.get(id)).filter((part): part is PartKnown => part !== undefined);
    if (to.length < asked.toPartIds.length)
      return refused(badInput('toPartIds', 'One of these parts is not in the books. Choose it from the list.'));
    const refusal = whyNotRelated(asked, { from, to, live, later, today });
    if (refusal !== null) return refused(refusal);
    const groupId = newId();
    const doubts = await doubtsAbout(fromId, asked, () => bearingsOf(transaction, [fromId, ...asked.toPartIds]));
    const rows = rowsOfRelation(fromId, asked, { groupId, personId: transaction.command.person.id, doubts });
    transaction.send(intoRelations.text, rowsTogether(rows));
    transaction.news('stores');
    return done({ relations: await relationsOfGroup(transaction, groupId) });
  }
}
