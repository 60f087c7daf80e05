import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Whoever asks by seller counts the findings of a thousand strip-downs: an index that holds all that is counted spares it the rows, and
 * one of those that took another's place, of which there are few, spares it a look-up at each finding.
 */
export class YieldsBySeller1764061200023 implements MigrationInterface {
  name = 'YieldsBySeller1764061200023';

  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [covering, replaced, dropOld, takeOldName, countedWithin]) await runner.query(statement);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP INDEX strip_findings_replaced, strip_findings_strip_down;
      CREATE INDEX strip_findings_strip_down ON strip_findings (strip_down_id, position, recorded_at);`);
    await runner.query(countedOf('later.supersedes_id = found.id'));
  }
}

// It takes the place of the one that there was: a finding that is written has no more indexes to write into than before.
const covering = `
  CREATE INDEX strip_findings_counting ON strip_findings (strip_down_id, position, recorded_at)
    INCLUDE (id, quantity, kind, disposition, looked_at)`;
const dropOld = 'DROP INDEX strip_findings_strip_down';
const takeOldName = 'ALTER INDEX strip_findings_counting RENAME TO strip_findings_strip_down';
const replaced = `
  CREATE INDEX strip_findings_replaced ON strip_findings (strip_down_id) INCLUDE (supersedes_id) WHERE supersedes_id IS NOT NULL`;

const countedOf = (isReplacement: string): string => `
  CREATE OR REPLACE VIEW counted_findings AS
    SELECT strip_down_id, position, quantity::integer AS looked,
           CASE WHEN is_serviceable(kind, disposition) THEN quantity::integer ELSE 0 END AS serviceable,
           CASE WHEN is_serviceable_after_work(kind, disposition) THEN quantity::integer ELSE 0 END AS after_work
      FROM strip_findings AS found
     WHERE counts_in_yield(looked_at, kind, disposition) AND NOT EXISTS (SELECT FROM strip_findings AS later WHERE ${isReplacement})`;
// A finding takes the place of one of its own strip-down only.
const countedWithin = countedOf(
  'later.supersedes_id = found.id AND later.strip_down_id = found.strip_down_id AND later.supersedes_id IS NOT NULL',
);
