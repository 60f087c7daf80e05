import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Coded } from '@corewright/contracts/base';
import type { CasingReplaced, ReplaceCasing } from '@corewright/contracts/cores';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { lockOf } from '../../stores/ledger.js';
import { type ThingRow, thingRow } from '../../stores/thing.queries.js';

const subjectOf = 'SELECT subject_id AS id FROM codes WHERE code = $1 AND voided_at IS NULL';
const insert = `
  INSERT INTO unit_links (id, command_key, from_unit_id, to_unit_id, kind, words, person_id) VALUES ($1, $2, $3, $4, 'casing replaced', $5, $6)`;
const isThere = 'SELECT 1 AS there FROM unit_links WHERE id = $1';
/** Where a unit's insides went, and where those went after that. */
const chain = `
  WITH RECURSIVE along AS (
    SELECT to_unit_id AS id FROM unit_links WHERE from_unit_id = $1
    UNION SELECT to_unit_id FROM unit_links JOIN along ON from_unit_id = along.id)
  SELECT id FROM along`;
const linkFrom = 'SELECT 1 AS there FROM unit_links WHERE from_unit_id = $1';

/**
 * The insides of a unit go on in another casing. A unit is known by its casing, so these stay two units that the record links; neither takes over what is
 * stamped on the other.
 */
@Injectable()
export class ReplaceCasingHandler {
  async handle(transaction: Transaction, unitId: string, input: ReplaceCasing): Promise<Result<z.infer<typeof CasingReplaced>>> {
    const read = readCode(input.unitCode, ['U']);
    if (!read.ok) return read;
    const other = await transaction.row<{ id: string }>(subjectOf, [read.value.code]);
    if (other === null) return refused(await whyNothingOpens(transaction, read.value));
    if (other.id === unitId)
      return refused(badInput('unitCode', 'That is this unit itself. Scan the unit whose casing is used now.'));
    for (const id of [unitId, other.id].sort()) await lockOf(transaction, id);
    const [from, to] = [await thingRow(transaction, unitId), await thingRow(transaction, other.id)];
    if (from === null || from.kind !== 'U' || to === null) return refused(notFound('That unit'));
    const barred = await this.whyNot(transaction, from, to, input.id);
    if (barred !== null) return refused(barred);
    const { command } = transaction;
    await transaction.rows(insert, [input.id, command.key, from.id, to.id, input.why, command.person.id]);
    transaction.news(`thing:${from.id}`, `thing:${to.id}`, 'stores');
    const words = `The insides of ${spoken(from)} go on in the casing of ${spoken(to)}. Each keeps its own stamps.`;
    return done({ id: input.id, from: coded(from), to: coded(to), words });
  }

  private async whyNot(transaction: Transaction, from: ThingRow, to: ThingRow, linkId: string): Promise<Refusal | null> {
    if (await transaction.row(isThere, [linkId])) return badInput('id', 'A link with this id is in the books already.');
    if (await transaction.row(linkFrom, [from.id]))
      return refusal(
        'casing-replaced-already',
        'Replaced already',
        `The insides of ${spoken(from)} went into another casing before. Look at its page.`,
      );
    const along = await transaction.rows<{ id: string }>(chain, [to.id]);
    if (along.some(({ id }) => id === from.id))
      return refusal(
        'casing-in-a-ring',
        'They went the other way',
        `By the books the insides of ${spoken(to)} went into ${spoken(from)}.`,
      );
    for (const unit of [from, to])
      if (unit.condemned || unit.keptForOwner)
        return refusal(
          unit.condemned ? 'condemned' : 'kept-for-owner',
          unit.condemned ? 'Condemned' : 'Kept for its owner',
          `${spoken(unit)} ${unit.condemned ? 'was condemned' : 'is kept for its owner'}, so nothing is built with it.`,
        );
    if (from.ownerId !== to.ownerId)
      return refusal(
        'goods-of-another-customer',
        'Two owners',
        `${spoken(from)} and ${spoken(to)} belong to different owners. Settle whose the casing is first: change the owner on its page when they have agreed.`,
      );
    return null;
  }
}

function refusal(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.` };
}

function spoken({ code }: ThingRow): string {
  return formatCode(code as LabelCode);
}

function coded({ id, code, name }: ThingRow): Coded {
  return { id, code, name };
}
