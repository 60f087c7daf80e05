import type { RecordRelation, RelationShown } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Result, refused } from '../../platform/refusal.js';
import { differencesOf } from '../bearings/part-bearings.js';
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
  SELECT from_part_id AS "fromId", to_part_id AS "toId", ${numberOfTarget} FROM relations WHERE id IN (SELECT id FROM later)`;
const insertRelation = `
  INSERT INTO relations (id, group_id, kind, from_part_id, to_part_id, is_kit, conditions, since, evidence_kind, evidence_words, accepted_by, doubt)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;

/** Puts a relation on the record, with its evidence and who accepted it. */
@Injectable()
export class RecordRelationHandler {
  constructor(private readonly clock: WorkshopClock) {}

  async handle(transaction: Transaction, fromId: string, asked: RecordRelation): Promise<Result<{ relations: RelationShown[] }>> {
    // Sent first, so whatever is read below is read under it.
    if (asked.kind === 'supersession') transaction.send(oneAtATime, []);
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
    for (const part of to)
      transaction.send(insertRelation, [
        newId(),
        groupId,
        asked.kind,
        fromId,
        part.id,
        to.length > 1,
        asked.conditions,
        asked.since,
        asked.evidence.kind,
        asked.evidence.words,
        transaction.command.person.id,
        asked.kind === 'same as' ? (await differencesOf(transaction, fromId, part.id)).join(' ') : '',
      ]);
    transaction.news('stores');
    return done({ relations: await relationsOfGroup(transaction, groupId) });
  }
}
