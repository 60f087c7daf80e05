import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** Who looked at stored goods, when, at what, and whether they passed: what extends a storage life rests on it, so it is kept for good. */
export class Storage1764061200012 implements MigrationInterface {
  name = 'Storage1764061200012';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(inspections);
    await grantServing(runner, 'append', ['storage_inspections']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE storage_inspections');
  }
}

const inspections = `
  CREATE TABLE storage_inspections (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES lots,
    inspected_on date NOT NULL,
    looked_at text NOT NULL CHECK (looked_at <> ''),
    passed boolean NOT NULL,
    words text NOT NULL CHECK (words <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX storage_inspections_thing ON storage_inspections (thing_id, inspected_on DESC, recorded_at DESC);
  CREATE TRIGGER storage_inspections_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON storage_inspections
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
