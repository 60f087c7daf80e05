import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/**
 * A box of unsorted things is a holder of what is in it, as a unit is; what was taken out of it and named is on the record. What nobody
 * could name is asked about, and answers are kept. What a unit or a box cost is passed on to what came out of it: each time the entries
 * come to nought, so that what it bore is what it kept and what it passed on.
 */
export class BoxesAndPassedOn1764061200021 implements MigrationInterface {
  name = 'BoxesAndPassedOn1764061200021';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [boxes, boxesKept, answers, passings, passingsKept]) await runner.query(statements);
    await grantServing(runner, 'append', ['box_takings', 'thing_answers', 'cost_passings']);
    await grantServing(runner, 'edit', ['part_worths']);
    await grantSequences(runner, ['box_takings_sequence_seq', 'cost_passings_sequence_seq']);
  }

  async down(): Promise<void> {
    throw new Error('What was taken out of boxes is not taken down: restore a backup instead.');
  }
}

const boxes = `
  ALTER TABLE holders DROP CONSTRAINT holders_kind_check,
    ADD CONSTRAINT holders_kind_check
      CHECK (kind IN ('place', 'tray', 'unit', 'box', 'outworker', 'supplier', 'customer', 'scrap', 'count-difference'));

  -- named: so many pieces are a thing of their own now; emptied: nothing is left, and so many pieces were not found; undone: it was a mistake
  CREATE TABLE box_takings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    box_id uuid NOT NULL REFERENCES unsorted_boxes,
    kind text NOT NULL CHECK (kind IN ('named', 'emptied', 'undone')),
    thing_id uuid REFERENCES things,
    pieces integer NOT NULL CHECK (pieces >= 0),
    undoes_id uuid UNIQUE REFERENCES box_takings,
    movement_id uuid REFERENCES movements,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK ((kind = 'named') = (thing_id IS NOT NULL)),
    CHECK ((kind = 'undone') = (undoes_id IS NOT NULL)),
    CHECK ((kind = 'emptied') = (movement_id IS NOT NULL)),
    CHECK (kind <> 'undone' OR why <> '')
  );
  CREATE INDEX box_takings_box ON box_takings (box_id, sequence);
  CREATE UNIQUE INDEX box_takings_out_of_one_box ON box_takings (thing_id) WHERE thing_id IS NOT NULL;
`;

const boxesKept = `
  CREATE TRIGGER box_takings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON box_takings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION pieces_named_of(box uuid) RETURNS bigint LANGUAGE sql STABLE AS $$
    SELECT coalesce(sum(pieces), 0) FROM box_takings AS named WHERE box_id = box AND kind = 'named'
       AND NOT EXISTS (SELECT FROM box_takings AS later WHERE later.undoes_id = named.id)
  $$;
  CREATE FUNCTION refuse_more_than_in_box() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    box uuid := CASE TG_TABLE_NAME WHEN 'box_takings' THEN to_jsonb(NEW)->>'box_id' ELSE to_jsonb(NEW)->>'thing_id' END;
  BEGIN
    IF pieces_named_of(box) > (SELECT piece_count FROM unsorted_boxes WHERE thing_id = box) THEN
      RAISE EXCEPTION 'No more is named of a box than was in it' USING ERRCODE = 'check_violation', CONSTRAINT = 'named_within_box';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER box_takings_within AFTER INSERT ON box_takings FOR EACH ROW EXECUTE FUNCTION refuse_more_than_in_box();
  CREATE TRIGGER unsorted_boxes_within AFTER UPDATE OF piece_count ON unsorted_boxes FOR EACH ROW EXECUTE FUNCTION refuse_more_than_in_box();
`;

const answers = `
  -- somebody who was asked says what a thing is that nobody here could name
  CREATE TABLE thing_answers (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    told_by text NOT NULL CHECK (told_by <> ''),
    words text NOT NULL CHECK (words <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX thing_answers_thing ON thing_answers (thing_id, recorded_at DESC);
  CREATE TRIGGER thing_answers_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON thing_answers FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const passings = `
  -- each time that what a unit or a box cost was passed on: what it bore then, and by which way it was shared
  CREATE TABLE cost_passings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    whole_id uuid NOT NULL REFERENCES things,
    way text NOT NULL CHECK (way IN ('relative value', 'weight', 'equally', 'by hand')),
    bore_minor bigint NOT NULL,
    currency char(3) NOT NULL,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    UNIQUE (id, whole_id)
  );
  CREATE INDEX cost_passings_whole ON cost_passings (whole_id, sequence DESC);

  -- what a part of a unit or a box is thought to be worth and weighs; the whole itself stands for what is left in it. Null: not known
  CREATE TABLE part_worths (
    whole_id uuid NOT NULL REFERENCES things,
    thing_id uuid NOT NULL REFERENCES things,
    worth_minor bigint CHECK (worth_minor >= 0),
    weight_kg numeric(14,4) CHECK (weight_kg > 0),
    version integer NOT NULL DEFAULT 2,
    PRIMARY KEY (whole_id, thing_id)
  );

  ALTER TABLE cost_entries
    ADD COLUMN whole_id uuid REFERENCES things,
    ADD COLUMN passing_id uuid,
    ADD FOREIGN KEY (passing_id, whole_id) REFERENCES cost_passings (id, whole_id),
    ADD CONSTRAINT passed_on_by_a_passing CHECK ((kind = 'passed on') = (passing_id IS NOT NULL)),
    ADD CONSTRAINT passed_on_of_a_whole CHECK ((passing_id IS NULL) = (whole_id IS NULL));
  CREATE INDEX cost_entries_whole ON cost_entries (whole_id) WHERE whole_id IS NOT NULL;
`;

const passingsKept = `
  CREATE TRIGGER cost_passings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON cost_passings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  -- what one gives the other gets: the entries of one passing are written in one statement
  CREATE FUNCTION refuse_uneven_passing() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (
      SELECT FROM cost_entries WHERE passing_id IN (SELECT passing_id FROM added WHERE passing_id IS NOT NULL)
       GROUP BY passing_id HAVING sum(amount_minor) <> 0) THEN
      RAISE EXCEPTION 'what a thing passes on is what others bear of it' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER cost_entries_passed_even AFTER INSERT ON cost_entries REFERENCING NEW TABLE AS added
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_uneven_passing();
`;
