import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing, grantServingColumns } from './serving-grants.js';

/** Counts of stores: what is counted when, who counts where, each entry as it was made, what was decided of each difference. */
export class Counting1764061200026 implements MigrationInterface {
  name = 'Counting1764061200026';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [schedule, counts, records, keeping]) await runner.query(statements);
    await grantServing(runner, 'edit', ['count_settings']);
    await grantServing(runner, 'edit-and-remove', ['count_terms', 'count_marks']);
    await grantServing(runner, 'append', ['counts', ...kept]);
    await grantServingColumns(runner, 'counts', ['ended_at', 'ended_by', 'ending', 'ending_why', 'ending_key']);
    await grantSequences(runner, [
      'counts_number_seq',
      'count_closings_sequence_seq',
      'count_entries_sequence_seq',
      'count_decisions_sequence_seq',
    ]);
  }

  async down(): Promise<void> {
    throw new Error('What was counted is not taken down: restore a backup instead.');
  }
}

/** Rows of these are never changed or deleted. */
const kept = [
  'count_takings',
  'count_closings',
  'count_entries',
  'count_entry_strikes',
  'count_findings',
  'count_finding_ends',
  'count_decisions',
  'count_lines',
];

const schedule = `
  -- how often is counted, where nobody says otherwise of a place or a kind of place
  CREATE TABLE count_settings (
    only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
    -- a part of which so many or fewer of ours are in stores is scarce, unless it is marked otherwise
    scarce_at_most numeric(14,4) NOT NULL DEFAULT 2 CHECK (scarce_at_most >= 0),
    scarce_days integer NOT NULL DEFAULT 30 CHECK (scarce_days > 0),
    usual_days integer NOT NULL DEFAULT 365 CHECK (usual_days > 0),
    version integer NOT NULL DEFAULT 1
  );
  INSERT INTO count_settings DEFAULT VALUES;

  -- of a place it holds for the places inside it too
  CREATE TABLE count_terms (
    id uuid PRIMARY KEY,
    place_id uuid UNIQUE REFERENCES places,
    place_kind text UNIQUE CHECK (place_kind IN ('site', 'area', 'rack', 'bin', 'quarantine')),
    days integer NOT NULL CHECK (days > 0),
    CHECK ((place_id IS NULL) <> (place_kind IS NULL))
  );

  CREATE TABLE count_marks (
    part_id uuid PRIMARY KEY REFERENCES parts,
    scarce boolean NOT NULL
  );
`;

const counts = `
  CREATE TABLE counts (
    id uuid PRIMARY KEY,
    number integer GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    -- of a place and what is inside it, or of a part wherever it lies
    place_id uuid REFERENCES places,
    part_id uuid REFERENCES parts,
    person_id uuid NOT NULL REFERENCES people,
    begun_at timestamptz NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    ended_at timestamptz,
    ended_by uuid REFERENCES people,
    ending text CHECK (ending IN ('posted', 'given up')),
    ending_why text,
    ending_key uuid REFERENCES commands,
    CHECK ((place_id IS NULL) <> (part_id IS NULL)),
    CHECK (begun_at <= recorded_at),
    CHECK (num_nulls(ended_at, ended_by, ending, ending_why, ending_key) IN (0, 5)),
    CHECK (ending IS DISTINCT FROM 'given up' OR ending_why <> '')
  );
  CREATE UNIQUE INDEX counts_one_of_a_place ON counts (place_id) WHERE ended_at IS NULL;
  CREATE UNIQUE INDEX counts_one_of_a_part ON counts (part_id) WHERE ended_at IS NULL;
  CREATE INDEX counts_ended ON counts (ended_at DESC) WHERE ended_at IS NOT NULL;
`;

const records = `
  -- who counts where: one takes a place, others join
  CREATE TABLE count_takings (
    id uuid PRIMARY KEY,
    count_id uuid NOT NULL REFERENCES counts,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    person_id uuid NOT NULL REFERENCES people,
    joined boolean NOT NULL,
    occurred_at timestamptz NOT NULL,
    UNIQUE (count_id, place_id, person_id)
  );
  CREATE UNIQUE INDEX count_takings_one_first ON count_takings (count_id, place_id) WHERE NOT joined;

  -- everything that lies there was scanned
  CREATE TABLE count_closings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    count_id uuid NOT NULL REFERENCES counts,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    person_id uuid NOT NULL REFERENCES people,
    occurred_at timestamptz NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX count_closings_place ON count_closings (count_id, place_id);

  -- occurred_at: when the label was scanned, by the device's clock, within what is possible; said_at: as the device said it
  CREATE TABLE count_entries (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    count_id uuid NOT NULL REFERENCES counts,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    thing_id uuid NOT NULL REFERENCES things,
    -- null: it was seen, and nobody has keyed how many
    quantity numeric(14,4) CHECK (quantity >= 0),
    -- what the counter was asked for: nothing, how many, or the number once more
    asked text NOT NULL CHECK (asked IN ('', 'how many', 'once more')),
    person_id uuid NOT NULL REFERENCES people,
    occurred_at timestamptz NOT NULL,
    said_at timestamptz,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (occurred_at <= recorded_at),
    CHECK ((quantity IS NULL) = (asked = 'how many'))
  );
  CREATE INDEX count_entries_line ON count_entries (count_id, place_id, thing_id);
  CREATE INDEX count_entries_thing ON count_entries (thing_id);

  -- scanned by mistake
  CREATE TABLE count_entry_strikes (
    entry_id uuid PRIMARY KEY REFERENCES count_entries,
    command_key uuid NOT NULL REFERENCES commands,
    person_id uuid NOT NULL REFERENCES people,
    struck_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  -- what bears no label, or the label of something else
  CREATE TABLE count_findings (
    id uuid PRIMARY KEY,
    count_id uuid NOT NULL REFERENCES counts,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    kind text NOT NULL CHECK (kind IN ('no label', 'another label')),
    thing_id uuid REFERENCES things,
    words text NOT NULL CHECK (words <> ''),
    quantity integer CHECK (quantity > 0),
    person_id uuid NOT NULL REFERENCES people,
    occurred_at timestamptz NOT NULL,
    CHECK ((kind = 'another label') = (thing_id IS NOT NULL))
  );
  CREATE INDEX count_findings_count ON count_findings (count_id);
  CREATE TABLE count_finding_ends (
    finding_id uuid PRIMARY KEY REFERENCES count_findings,
    command_key uuid NOT NULL REFERENCES commands,
    how text NOT NULL CHECK (how IN ('made unsorted', 'left')),
    thing_id uuid REFERENCES things,
    why text NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    decided_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK ((how = 'made unsorted') = (thing_id IS NOT NULL)),
    CHECK (how <> 'left' OR why <> '')
  );

  -- what became of a difference; the last one of a line stands
  CREATE TABLE count_decisions (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    count_id uuid NOT NULL REFERENCES counts,
    command_key uuid NOT NULL REFERENCES commands,
    place_id uuid NOT NULL REFERENCES places,
    thing_id uuid NOT NULL REFERENCES things,
    -- the first decision of a line, the second …: of two who decide at once one is refused
    turn smallint NOT NULL CHECK (turn > 0),
    decision text NOT NULL CHECK (decision IN ('posted', 'moved', 'missing', 'again', 'left', 'taken back')),
    counted numeric(14,4),
    books numeric(14,4),
    movement_id uuid UNIQUE REFERENCES movements,
    why text NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    decided_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    UNIQUE (count_id, place_id, thing_id, turn),
    CHECK (decision NOT IN ('posted', 'moved') OR movement_id IS NOT NULL),
    CHECK (decision NOT IN ('missing', 'again', 'left') OR movement_id IS NULL),
    CHECK (decision NOT IN ('posted', 'moved', 'missing') OR num_nulls(counted, books) = 0),
    CHECK (decision <> 'left' OR why <> '')
  );
  CREATE INDEX count_decisions_thing ON count_decisions (thing_id);

  -- each line as it stood when its count was posted: what was counted, and what the books held at that moment
  CREATE TABLE count_lines (
    count_id uuid NOT NULL REFERENCES counts,
    place_id uuid NOT NULL REFERENCES places,
    thing_id uuid NOT NULL REFERENCES things,
    person_id uuid NOT NULL REFERENCES people,
    counted numeric(14,4) NOT NULL CHECK (counted >= 0),
    books numeric(14,4) NOT NULL,
    agreed boolean NOT NULL GENERATED ALWAYS AS (counted = books) STORED,
    occurred_at timestamptz NOT NULL,
    PRIMARY KEY (count_id, place_id, thing_id)
  );
  CREATE INDEX count_lines_thing ON count_lines (thing_id, occurred_at DESC);
  CREATE INDEX count_lines_place ON count_lines (place_id, occurred_at DESC);

  -- a thing's label is on something else: whoever scans it must know
  ALTER TABLE stores_flags DROP CONSTRAINT stores_flags_kind_check,
    ADD CONSTRAINT stores_flags_kind_check CHECK (kind IN ('found in hand', 'not there', 'another label'));
`;

const keeping = `
  ${kept
    .map(
      (table) =>
        `CREATE TRIGGER ${table}_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();`,
    )
    .join('\n  ')}

  CREATE FUNCTION keep_count_ended() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF OLD.ended_at IS NOT NULL THEN
      RAISE EXCEPTION 'count % has ended, and an ending stands', OLD.number USING ERRCODE = 'CW026';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER counts_ended_once BEFORE UPDATE ON counts FOR EACH ROW EXECUTE FUNCTION keep_count_ended();

  -- nothing is counted, found or decided in a count that has ended
  CREATE FUNCTION keep_in_open_count() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (SELECT FROM counts WHERE id = NEW.count_id AND ended_at IS NOT NULL) THEN
      RAISE EXCEPTION 'the count has ended' USING ERRCODE = 'CW026';
    END IF;
    RETURN NEW;
  END $$;
  ${['count_takings', 'count_closings', 'count_entries', 'count_findings', 'count_decisions', 'count_lines']
    .map(
      (table) =>
        `CREATE TRIGGER ${table}_in_open_count BEFORE INSERT ON ${table} FOR EACH ROW EXECUTE FUNCTION keep_in_open_count();`,
    )
    .join('\n  ')}
`;
