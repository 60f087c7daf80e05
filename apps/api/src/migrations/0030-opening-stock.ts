import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/**
 * What lay on the shelves before the books began: how far each place is, the rows that were keyed there, and what they cost where somebody says so
 * later. The database itself holds that the entries of cost of a row are what the row says.
 */
export class OpeningStock1764061200030 implements MigrationInterface {
  name = 'OpeningStock1764061200030';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [tables, costs, keeping]) await runner.query(statements);
    await grantServing(runner, 'append', ['opening_acts']);
    await grantServing(runner, 'edit', ['opening_rows']);
    await grantServing(runner, 'edit-and-remove', ['opening_desk']);
    await grantSequences(runner, ['opening_acts_sequence_seq']);
  }

  async down(): Promise<void> {
    throw new Error('What was opened is not taken down: restore a backup instead.');
  }
}

const tables = `
  -- the last of a place says how far it is; one without any is not in the books yet
  CREATE TABLE opening_acts (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    kind text NOT NULL CHECK (kind IN ('begun', 'done', 'opened again')),
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX opening_acts_place ON opening_acts (place_id, sequence DESC);

  -- quantity: how many were found; job_id: it was taken onto that job at once, from a shelf that nobody had opened
  CREATE TABLE opening_rows (
    thing_id uuid PRIMARY KEY REFERENCES things,
    place_id uuid NOT NULL REFERENCES places,
    job_id uuid REFERENCES jobs,
    split_from_id uuid REFERENCES opening_rows,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    standing text NOT NULL CHECK (standing IN ('to name', 'named', 'asked', 'scrapped', 'struck out')),
    cost_standing text NOT NULL DEFAULT 'not looked at' CHECK (cost_standing IN ('not looked at', 'unknown', 'estimate', 'figure')),
    cost_minor bigint CHECK (cost_minor >= 0),
    keyed_by uuid NOT NULL REFERENCES people,
    keyed_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    named_by uuid REFERENCES people,
    named_at timestamptz,
    version integer NOT NULL DEFAULT 1,
    CHECK ((cost_standing IN ('estimate', 'figure')) = (cost_minor IS NOT NULL)),
    CHECK ((named_by IS NULL) = (named_at IS NULL)),
    CHECK (split_from_id <> thing_id)
  );
  CREATE INDEX opening_rows_place ON opening_rows (place_id);
  CREATE INDEX opening_rows_left ON opening_rows (keyed_at, thing_id) WHERE standing IN ('to name', 'named');

  -- who has a row in hand at the desk, for minutes: two do not name the same
  CREATE TABLE opening_desk (
    thing_id uuid PRIMARY KEY REFERENCES opening_rows,
    person_id uuid NOT NULL REFERENCES people,
    until timestamptz NOT NULL
  );

  -- nobody here can name it: whoever is asked around may
  ALTER TABLE lots ADD COLUMN ask_around boolean NOT NULL DEFAULT false;
`;

const costs = `
  ALTER TABLE cost_entries DROP CONSTRAINT cost_entries_kind_check,
    ADD CONSTRAINT cost_entries_kind_check CHECK (kind IN ('load share', 'adjustment', 'passed on', 'opening stock'));
`;

const keeping = `
  CREATE TRIGGER opening_acts_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON opening_acts FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER opening_rows_kept BEFORE DELETE OR TRUNCATE ON opening_rows FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION refuse_other_shelf() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF (NEW.thing_id, NEW.place_id, NEW.job_id, NEW.split_from_id) IS DISTINCT FROM (OLD.thing_id, OLD.place_id, OLD.job_id, OLD.split_from_id) THEN
      RAISE EXCEPTION 'a row of opening stock stays with the shelf where it was keyed' USING ERRCODE = 'CW002';
    END IF;
    IF OLD.standing = 'struck out' AND NEW.standing <> 'struck out' THEN
      RAISE EXCEPTION 'what was struck out stays so' USING ERRCODE = 'CW002';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER opening_rows_stay BEFORE UPDATE ON opening_rows FOR EACH ROW EXECUTE FUNCTION refuse_other_shelf();

  -- what a row says that it cost is what its entries come to
  CREATE FUNCTION refuse_other_cost() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    thing uuid := to_jsonb(NEW)->>'thing_id';
  BEGIN
    IF (SELECT sum(amount_minor) FROM cost_entries WHERE thing_id = thing AND kind = 'opening stock')
       IS DISTINCT FROM (SELECT cost_minor FROM opening_rows WHERE thing_id = thing) THEN
      RAISE EXCEPTION 'the entries of cost are what the row of opening stock says' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE CONSTRAINT TRIGGER cost_entries_of_opening AFTER INSERT ON cost_entries DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW WHEN (NEW.kind = 'opening stock') EXECUTE FUNCTION refuse_other_cost();
  CREATE CONSTRAINT TRIGGER opening_rows_cost AFTER INSERT OR UPDATE OF cost_minor ON opening_rows DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW EXECUTE FUNCTION refuse_other_cost();
`;
