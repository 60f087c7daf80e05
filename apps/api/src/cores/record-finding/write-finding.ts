import { formatDecimal } from '@corewright/quantities/decimal';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { JobOfUnitRegister } from '../job-of-unit.js';
import { componentsOf, type StripDownUnderWay, stripDownRow } from '../lock-strip-down.js';
import { type ComponentState, type StandingFinding, seenOfPart } from '../strip-state.js';

export interface FindingToWrite extends StandingFinding {
  thickness: string | null;
  ownersWord: string;
  supersedesId: string | null;
}

const insert = `
  INSERT INTO strip_findings (id, command_key, strip_down_id, position, name, kind, quantity, part_id, finding, words, disposition, looked_at, stamped,
                              thickness_mm, owners_word, thing_id, supersedes_id, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18)`;

/** Puts a finding on the record; the one that it takes the place of stays there too. */
export async function writeFinding(transaction: Transaction, stripDownId: string, finding: FindingToWrite): Promise<void> {
  const { command } = transaction;
  await transaction.rows(insert, [
    finding.id,
    command.key,
    stripDownId,
    finding.position,
    finding.name,
    finding.kind,
    formatDecimal(finding.quantity),
    finding.partId,
    finding.finding,
    finding.words,
    finding.disposition,
    finding.lookedAt,
    finding.stamped,
    finding.thickness,
    finding.ownersWord,
    finding.thingId,
    finding.supersedesId,
    command.person.id,
  ]);
}

/** The components of a strip-down after what was written in this transaction. */
export async function componentsAfter(transaction: Transaction, id: string): Promise<ComponentState[]> {
  const row = await stripDownRow(transaction, id);
  return row === null ? [] : componentsOf(transaction, row);
}

/** Tells the unit's job what it may count on of these parts; says of which lines. */
export async function tellJob(
  transaction: Transaction,
  { job }: StripDownUnderWay,
  components: readonly ComponentState[],
  partIds: readonly (string | null)[],
  jobs: JobOfUnitRegister,
): Promise<number[]> {
  if (job === null) return [];
  const lines: number[] = [];
  for (const partId of [...new Set(partIds)].sort()) {
    if (partId === null) continue;
    const line = await jobs.tell(transaction, job.id, { partId, ...seenOfPart(components, partId) });
    if (line !== null) lines.push(line.lineNo);
  }
  return lines;
}
