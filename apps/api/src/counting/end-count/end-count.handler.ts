import type { CountPage, EndCount } from '@corewright/contracts/counting';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { rowsInto, rowsTogether } from '../../platform/database/many-rows.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { CountPages } from '../count-page.js';
import { type Line, readLines, takenOf } from '../lines.js';
import { type CountRow, lockOpenCount } from '../open-count.js';
import { whyNotPosted } from './why-not-posted.js';

const endCount = `
  UPDATE counts SET ended_at = clock_timestamp(), ended_by = $2, ending = $3, ending_why = $4, ending_key = $5 WHERE id = $1`;
const insertLines = rowsInto(
  'count_lines',
  'count_id uuid',
  'place_id uuid',
  'thing_id uuid',
  'person_id uuid',
  'counted numeric',
  'books numeric',
  'occurred_at timestamptz',
);
const openFindings = `
  SELECT count(*)::int AS open FROM count_findings WHERE count_id = $1 AND NOT EXISTS (SELECT FROM count_finding_ends WHERE finding_id = count_findings.id)`;

/** A count is over: every difference was decided, and what was counted stays on the record; or it is given up, and changes nothing more. */
@Injectable()
export class EndCountHandler {
  constructor(private readonly pages: CountPages) {}

  async handle(transaction: Transaction, countId: string, { ending, why }: EndCount): Promise<Result<CountPage>> {
    const count = await lockOpenCount(transaction, countId, 'alone');
    if (!count.ok) return count;
    if (ending === 'given up' && why === '') return refused(badInput('why', 'Say why it is given up.'));
    if (ending === 'posted') {
      const kept = await keepLines(transaction, count.value);
      if (!kept.ok) return kept;
    }
    const { person, key } = transaction.command;
    await transaction.rows(endCount, [countId, person.id, ending, why, key]);
    transaction.news('counts', 'stores', 'today');
    const page = await this.pages.of(transaction, countId, person);
    invariant(page, 'a locked count is there');
    return done(page);
  }
}

async function keepLines(transaction: Transaction, count: CountRow): Promise<Result<null>> {
  const { lines, notClosed } = await readLines(transaction, count);
  const findings = await transaction.row<{ open: number }>(openFindings, [count.id]);
  const barred = whyNotPosted({
    lines: lines.length,
    open: lines.filter(({ isOpen }) => isOpen).length,
    notClosed,
    findings: findings?.open ?? 0,
  });
  if (barred !== null) return refused(barred);
  const rows = lines.flatMap((line) => lineKept(count.id, line));
  if (rows.length > 0) await transaction.rows(insertLines.text, rowsTogether(rows));
  return done(null);
}

/** What was decided to have been counted; a line of which nobody can say how many there were is no line of the record. */
function lineKept(countId: string, line: Line): unknown[][] {
  const { placeId, thingId, decided, counted } = line;
  const taken =
    takenOf(line) ??
    counted.taken.find(({ quantity }) => decided?.counted !== null && formatDecimal(quantity) === decided?.counted) ??
    null;
  if (taken === null) return [];
  const at = new Date(taken.at).toISOString();
  return [[countId, placeId, thingId, taken.personId, formatDecimal(taken.quantity), formatDecimal(taken.books), at]];
}
