import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** The history of holds, and what makes words and marks quick to find. */
export class Stores1764061200005 implements MigrationInterface {
  name = 'Stores1764061200005';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(stores);
    await grantServing(runner, 'append', ['hold_changes']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE hold_changes');
    await runner.query('DROP INDEX lots_said, unsorted_boxes_said');
  }
}

const stores = `
  -- things carries the hold that stands; here is who held what back and who lifted it, each with a reason
  CREATE TABLE hold_changes (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    held_back boolean NOT NULL,
    reason text NOT NULL CHECK (reason <> ''),
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX hold_changes_thing ON hold_changes (thing_id, recorded_at DESC);
  CREATE TRIGGER hold_changes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON hold_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE INDEX lots_said ON lots USING gin ((words || ' ' || marks) gin_trgm_ops);
  CREATE INDEX unsorted_boxes_said ON unsorted_boxes USING gin (words gin_trgm_ops);
`;
