import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * Who looked at stored goods, when, at what, and whether they passed: what extends a storage life rests on it, so it is kept for
 * good. How a bearing is preserved and kept, on which its storage period depends. And who keyed or struck out the workshop's own
 * rows in the tables of bearings.
 */
export class Storage1764061200012 implements MigrationInterface {
  name = 'Storage1764061200012';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(inspections);
    await runner.query(preservation);
    await runner.query(changes);
    await grantServing(runner, 'append', ['bearing_changes']);
    await grantServing(runner, 'edit-and-remove', ['bearing_dimensions', 'bearing_suffixes']);
    await grantServing(runner, 'append', ['storage_inspections']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE bearing_changes, storage_inspections');
    await runner.query('ALTER TABLE lots DROP COLUMN bearing_packing, DROP COLUMN bearing_store');
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
    preserved_anew boolean NOT NULL DEFAULT false,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX storage_inspections_thing ON storage_inspections (thing_id, inspected_on DESC, recorded_at DESC);
  CREATE TRIGGER storage_inspections_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON storage_inspections
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

// null: not said to be a preserved bearing, or not known how it was stored
const preservation = `
  ALTER TABLE lots
    ADD COLUMN bearing_packing text CHECK (bearing_packing IN ('open-preserved', 'sealed-greased')),
    ADD COLUMN bearing_store text CHECK (bearing_store IN ('dry', 'humid', 'humid-warm', 'uncontrolled')),
    ADD CHECK (bearing_store IS NULL OR bearing_packing IS NOT NULL);
  CREATE INDEX lots_preserved ON lots (packet_earliest) WHERE bearing_packing IS NOT NULL;
`;

// a row that is struck out goes, or a shipped one comes back in its place: here is who did what, and what stood there
const changes = `
  CREATE TABLE bearing_changes (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    row_key text COLLATE "C" NOT NULL CHECK (row_key <> ''),
    struck_out boolean NOT NULL,
    row json NOT NULL,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX bearing_changes_row ON bearing_changes (row_key, recorded_at DESC);
  CREATE TRIGGER bearing_changes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON bearing_changes
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
