import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Where everybody has looked, somebody looks once more in their own name, and the record says so. And whoever counts may doubt a figure in words
 * and photographs: what is in doubt is found beside what bears no label.
 */
export class SecondLooksAndDoubts1764061200036 implements MigrationInterface {
  name = 'SecondLooksAndDoubts1764061200036';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`
      ALTER TABLE count_entries ADD COLUMN in_own_name boolean NOT NULL DEFAULT false;
      ALTER TABLE count_closings ADD COLUMN in_own_name boolean NOT NULL DEFAULT false;

      ALTER TABLE count_findings DROP CONSTRAINT count_findings_kind_check, DROP CONSTRAINT count_findings_check,
        ADD CONSTRAINT count_findings_kind_check CHECK (kind IN ('no label', 'another label', 'in doubt')),
        ADD CONSTRAINT count_findings_of_what CHECK ((kind = 'no label') = (thing_id IS NULL));
      CREATE INDEX count_findings_thing ON count_findings (thing_id) WHERE thing_id IS NOT NULL;
      CREATE INDEX count_finding_ends_thing ON count_finding_ends (thing_id) WHERE thing_id IS NOT NULL;`);
  }

  async down(): Promise<void> {
    throw new Error('Who looked again in their own name is not forgotten: restore a backup instead.');
  }
}
