import type { RelationShown } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { relationsOfGroup } from './relation.queries.js';

const selectGroup = 'SELECT group_id AS "groupId" FROM relations WHERE id = $1';
const lockGroup = `
  SELECT withdrawn_at IS NOT NULL AS "isWithdrawn" FROM relations WHERE group_id = $1 ORDER BY id FOR UPDATE`;
const withdraw = `
  UPDATE relations SET withdrawn_at = clock_timestamp(), withdrawn_by = $2, withdrawn_why = $3 WHERE group_id = $1`;

/** Takes a relation back, with a reason; it stays on the record. A kit is taken back whole, for it was accepted whole. */
@Injectable()
export class WithdrawRelationHandler {
  async handle(transaction: Transaction, relationId: string, why: string): Promise<Result<{ relations: RelationShown[] }>> {
    const relation = await transaction.row<{ groupId: string }>(selectGroup, [relationId]);
    if (relation === null) return refused(notFound('That relation'));
    const { groupId } = relation;
    const rows = await transaction.rows<{ isWithdrawn: boolean }>(lockGroup, [groupId]);
    if (rows.some((row) => row.isWithdrawn))
      return refused({
        status: 409,
        code: 'withdrawn-already',
        title: 'Withdrawn already',
        detail: 'This relation was withdrawn before. Nothing was changed: what was said then stays on the record.',
      });
    transaction.send(withdraw, [groupId, transaction.command.person.id, why]);
    transaction.news('stores');
    return done({ relations: await relationsOfGroup(transaction, groupId) });
  }
}
