import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/**
 * Labels that are put on, replaced and taken off: a thing may bear several codes, one of which is the one that is shown; a void code never
 * lives again. And bags that turn out to be two, or one: so many of a lot go on under another label, out of the one and into the other by
 * the same amount.
 */
export class LabelChanges1764061200027 implements MigrationInterface {
  name = 'LabelChanges1764061200027';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [labels, boundary, regroupings, regroupingsKept, corrections]) await runner.query(statements);
    await grantServing(runner, 'append', ['label_changes', 'lot_regroupings', 'lot_corrections']);
    await grantSequences(runner, ['label_changes_sequence_seq', 'lot_regroupings_sequence_seq']);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`GRANT UPDATE (merged_into_id) ON things TO ${row?.role}`);
  }

  async down(): Promise<void> {
    throw new Error('What became of labels and lots is not taken down: restore a backup instead.');
  }
}

/** Known to the code by this id: through it goods go from one lot into another. */
const regroupingId = '00000000-0000-7000-8000-0000000a1107';

const labels = `
  -- further: borne beside the one that is shown. moved_from: the lot that bore it first, where it went over to another with its goods
  ALTER TABLE codes
    ADD COLUMN further boolean NOT NULL DEFAULT false,
    ADD COLUMN moved_from_id uuid;
  CREATE UNIQUE INDEX codes_one_shown ON codes (subject_id) WHERE voided_at IS NULL AND NOT further AND kind IN ('U', 'L', 'C', 'X', 'P', 'J');
  CREATE INDEX codes_moved_from ON codes (moved_from_id) WHERE moved_from_id IS NOT NULL;

  CREATE FUNCTION keep_void_codes() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF OLD.voided_at IS NOT NULL THEN
      RAISE EXCEPTION 'A void code never lives again' USING ERRCODE = 'check_violation', CONSTRAINT = 'void_codes_stay';
    END IF;
    IF NEW.code <> OLD.code OR NEW.kind <> OLD.kind OR (NEW.subject_id <> OLD.subject_id AND NEW.moved_from_id IS NULL) THEN
      RAISE EXCEPTION 'A code says what it was on' USING ERRCODE = 'check_violation', CONSTRAINT = 'void_codes_stay';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER codes_void_stay BEFORE UPDATE ON codes FOR EACH ROW EXECUTE FUNCTION keep_void_codes();

  CREATE TABLE label_changes (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    -- the thing or the place that bears it afterwards, or bore it last
    subject_id uuid NOT NULL,
    code text COLLATE "C" NOT NULL REFERENCES codes,
    kind text NOT NULL CHECK (kind IN ('put on', 'replaced', 'taken off', 'went over')),
    -- the label that took its place
    other_code text COLLATE "C" REFERENCES codes,
    -- the thing that bore it before it went over
    other_subject_id uuid,
    why text NOT NULL CHECK (why <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK ((kind = 'replaced') = (other_code IS NOT NULL)),
    CHECK ((kind = 'went over') = (other_subject_id IS NOT NULL))
  );
  CREATE INDEX label_changes_subject ON label_changes (subject_id, sequence DESC);
  CREATE INDEX label_changes_from ON label_changes (other_subject_id) WHERE other_subject_id IS NOT NULL;
  CREATE TRIGGER label_changes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON label_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

// Whatever kinds there are by now stay as they are: one is added. A generated column cannot be altered, so it is made anew.
const boundary = `
  DO $$
  DECLARE
    kinds text := (SELECT string_agg(quote_literal(kind), ', ') FROM (
      SELECT (regexp_matches(pg_get_constraintdef(oid), '''([a-z -]+)''', 'g'))[1] AS kind FROM pg_constraint
       WHERE conname = 'holders_kind_check' AND conrelid = 'holders'::regclass) AS known);
    beyond text := (SELECT string_agg(quote_literal(kind), ', ') FROM (
      SELECT (regexp_matches(pg_get_expr(adbin, adrelid), '''([a-z -]+)''', 'g'))[1] AS kind
        FROM pg_attrdef JOIN pg_attribute ON attrelid = adrelid AND attnum = adnum
       WHERE adrelid = 'holders'::regclass AND attname = 'boundary') AS known);
  BEGIN
    EXECUTE format('ALTER TABLE holders DROP CONSTRAINT holders_kind_check, ADD CONSTRAINT holders_kind_check CHECK (kind IN (%s, ''regrouping''))', kinds);
    ALTER TABLE balances DROP CONSTRAINT balances_holder_id_boundary_fkey;
    ALTER TABLE holders DROP CONSTRAINT holders_id_boundary_key;
    ALTER TABLE holders DROP COLUMN boundary;
    EXECUTE format('ALTER TABLE holders ADD COLUMN boundary boolean NOT NULL GENERATED ALWAYS AS (kind IN (%s, ''regrouping'')) STORED', beyond);
    ALTER TABLE holders ADD CONSTRAINT holders_id_boundary_key UNIQUE (id, boundary);
    ALTER TABLE balances ADD CONSTRAINT balances_holder_id_boundary_fkey FOREIGN KEY (holder_id, boundary) REFERENCES holders (id, boundary);
  END $$;
  INSERT INTO holders (id, kind) VALUES ('${regroupingId}', 'regrouping');
`;

const regroupings = `
  -- of a lot that turned out to be the same as another nothing is here any more, and nothing comes back to it
  ALTER TABLE things
    ADD COLUMN merged_into_id uuid REFERENCES things,
    ADD CONSTRAINT merged_is_gone CHECK (merged_into_id IS NULL OR (held = 0 AND awaited = 0 AND claimed = 0 AND merged_into_id <> id));
  CREATE INDEX things_merged_into ON things (merged_into_id) WHERE merged_into_id IS NOT NULL;

  -- split: so many of the one are a lot of their own; merged: the one is part of the other. Of several places one row each.
  CREATE TABLE lot_regroupings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    kind text NOT NULL CHECK (kind IN ('split', 'merged')),
    from_lot_id uuid NOT NULL REFERENCES lots,
    to_lot_id uuid NOT NULL REFERENCES lots,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    out_movement_id uuid NOT NULL UNIQUE REFERENCES movements,
    in_movement_id uuid NOT NULL UNIQUE REFERENCES movements,
    why text NOT NULL CHECK (why <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (from_lot_id <> to_lot_id)
  );
  CREATE INDEX lot_regroupings_from ON lot_regroupings (from_lot_id, sequence);
  CREATE INDEX lot_regroupings_to ON lot_regroupings (to_lot_id, sequence);
  CREATE UNIQUE INDEX lot_regroupings_split_once ON lot_regroupings (to_lot_id) WHERE kind = 'split';
`;

const regroupingsKept = `
  CREATE TRIGGER lot_regroupings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON lot_regroupings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION refuse_uneven_regrouping() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF NOT EXISTS (
      SELECT FROM movements AS out, movements AS into_other
       WHERE out.id = NEW.out_movement_id AND out.thing_id = NEW.from_lot_id AND out.to_holder_id = '${regroupingId}' AND out.quantity = NEW.quantity
         AND into_other.id = NEW.in_movement_id AND into_other.thing_id = NEW.to_lot_id
         AND into_other.from_holder_id = '${regroupingId}' AND into_other.quantity = NEW.quantity) THEN
      RAISE EXCEPTION 'what leaves one lot comes into the other' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER lot_regroupings_even AFTER INSERT ON lot_regroupings FOR EACH ROW EXECUTE FUNCTION refuse_uneven_regrouping();

  -- nothing goes through this boundary but from one lot into another
  CREATE FUNCTION refuse_lone_regrouping() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF NOT EXISTS (SELECT FROM lot_regroupings WHERE NEW.id IN (out_movement_id, in_movement_id)) THEN
      RAISE EXCEPTION 'what leaves one lot comes into the other' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE CONSTRAINT TRIGGER movements_regrouped AFTER INSERT ON movements DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
    WHEN (NEW.from_holder_id = '${regroupingId}' OR NEW.to_holder_id = '${regroupingId}') EXECUTE FUNCTION refuse_lone_regrouping();
`;

const corrections = `
  -- what a lot was said to be before somebody put it right: its row as it was, and what changed in words
  CREATE TABLE lot_corrections (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    lot_id uuid NOT NULL REFERENCES lots,
    was jsonb NOT NULL,
    words text NOT NULL CHECK (words <> ''),
    why text NOT NULL CHECK (why <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX lot_corrections_lot ON lot_corrections (lot_id, recorded_at DESC);
  CREATE TRIGGER lot_corrections_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON lot_corrections FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
