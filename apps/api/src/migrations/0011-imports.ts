import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** How far an import has come, written beside its transaction so that every server sees it, and whether somebody stops it. */
export class Imports1764061200011 implements MigrationInterface {
  name = 'Imports1764061200011';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(imports);
    await grantServing(runner, 'edit-and-remove', ['import_runs']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE import_runs');
  }
}

const imports = `
  -- one row at the most is of an import under way; one that a server left behind when it died goes with the next
  CREATE TABLE import_runs (
    key uuid PRIMARY KEY,
    person_id uuid NOT NULL REFERENCES people,
    is_trial boolean NOT NULL,
    began_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    file text NOT NULL DEFAULT '',
    rows_read integer NOT NULL DEFAULT 0,
    bytes_read bigint NOT NULL DEFAULT 0,
    bytes_total bigint NOT NULL,
    stop_asked_at timestamptz
  );
`;
