import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/** Loads, pictures, label runs, jobs with lines, operations and fittings, expected receipts, calendar, dates given. */
export class Records1764061200004 implements MigrationInterface {
  name = 'Records1764061200004';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(records);
    await grantServing(runner, 'append', [
      'pictures',
      'picture_data',
      'label_runs',
      'label_prints',
      'fittings',
      'fitting_endings',
      'findings',
      'dates_given',
      'import_references',
    ]);
    await grantServing(runner, 'edit', [
      'loads',
      'load_rows',
      'label_printers',
      'jobs',
      'job_operations',
      'job_lines',
      'expected_receipts',
      'stores_flags',
      'working_week',
    ]);
    await grantServing(runner, 'edit-and-remove', ['closed_days']);
    await grantSequences(runner, ['load_numbers']);
  }

  async down(): Promise<void> {
    throw new Error('The records are not taken down: restore a backup instead.');
  }
}

const records = `
  CREATE SEQUENCE load_numbers;
  CREATE TABLE loads (
    id uuid PRIMARY KEY,
    number integer NOT NULL UNIQUE DEFAULT nextval('load_numbers'),
    words text NOT NULL CHECK (words <> ''),
    seller_id uuid NOT NULL REFERENCES parties,
    bought_on date NOT NULL,
    version integer NOT NULL DEFAULT 1,
    created_at timestamptz NOT NULL DEFAULT now()
  );

  CREATE TABLE load_rows (
    thing_id uuid PRIMARY KEY REFERENCES things,
    load_id uuid NOT NULL REFERENCES loads,
    position integer NOT NULL CHECK (position > 0),
    version integer NOT NULL DEFAULT 1,
    struck_out boolean NOT NULL DEFAULT false,
    UNIQUE (load_id, position)
  );

  CREATE TABLE pictures (
    id uuid PRIMARY KEY,
    subject_id uuid NOT NULL,
    media_type text NOT NULL,
    width integer NOT NULL,
    height integer NOT NULL,
    person_id uuid REFERENCES people,
    taken_at timestamptz NOT NULL DEFAULT now()
  );
  CREATE INDEX pictures_subject ON pictures (subject_id, taken_at);
  CREATE TABLE picture_data (
    picture_id uuid NOT NULL REFERENCES pictures,
    size text NOT NULL CHECK (size IN ('full', 'small')),
    bytes bytea NOT NULL,
    PRIMARY KEY (picture_id, size)
  );

  CREATE TABLE label_printers (
    id uuid PRIMARY KEY,
    name text NOT NULL UNIQUE CHECK (name <> ''),
    stock text NOT NULL CHECK (stock IN ('tie-on tag', 'bag label', 'A4 sheet')),
    dots_per_inch smallint NOT NULL CHECK (dots_per_inch IN (203, 300)),
    version integer NOT NULL DEFAULT 1
  );

  CREATE TABLE label_runs (
    id uuid PRIMARY KEY,
    stock text NOT NULL,
    dots_per_inch smallint NOT NULL,
    start_cell smallint NOT NULL DEFAULT 1,
    person_id uuid REFERENCES people,
    started_at timestamptz NOT NULL DEFAULT now()
  );

  CREATE TABLE label_prints (
    id uuid PRIMARY KEY,
    run_id uuid NOT NULL REFERENCES label_runs,
    position integer NOT NULL,
    code text COLLATE "C" NOT NULL REFERENCES codes,
    copies smallint NOT NULL CHECK (copies > 0),
    person_id uuid REFERENCES people,
    printed_at timestamptz NOT NULL DEFAULT now()
  );
  CREATE INDEX label_prints_code ON label_prints (code);

  CREATE TABLE jobs (
    id uuid PRIMARY KEY,
    unit_id uuid NOT NULL REFERENCES units,
    customer_id uuid REFERENCES parties,
    title text NOT NULL CHECK (title <> ''),
    wanted text NOT NULL DEFAULT '',
    build_standard text NOT NULL CHECK (build_standard IN ('as original', 'serviceable', 'customer''s choice')),
    state text NOT NULL CHECK (state IN ('estimate', 'strip', 'parts wanted', 'building', 'test', 'done', 'released', 'called off')),
    priority smallint NOT NULL DEFAULT 3 CHECK (priority BETWEEN 1 AND 5),
    tray_id uuid NOT NULL REFERENCES places,
    opened_on date NOT NULL,
    version integer NOT NULL DEFAULT 1
  );
  CREATE INDEX jobs_unit ON jobs (unit_id);

  CREATE TABLE job_operations (
    id uuid PRIMARY KEY,
    job_id uuid NOT NULL REFERENCES jobs,
    number smallint NOT NULL CHECK (number > 0),
    name text NOT NULL,
    minutes_planned integer NOT NULL CHECK (minutes_planned >= 0),
    minutes_left integer NOT NULL CHECK (minutes_left >= 0),
    after_numbers smallint[] NOT NULL DEFAULT '{}',
    version integer NOT NULL DEFAULT 1,
    UNIQUE (job_id, number),
    UNIQUE (id, job_id)
  );

  CREATE TABLE job_lines (
    id uuid PRIMARY KEY,
    job_id uuid NOT NULL REFERENCES jobs,
    line_no smallint NOT NULL CHECK (line_no > 0),
    part_id uuid NOT NULL REFERENCES parts,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    operation_id uuid NOT NULL,
    critical boolean NOT NULL DEFAULT false,
    reusable boolean NOT NULL DEFAULT false,
    sources text[] NOT NULL DEFAULT '{}',
    makes text[] NOT NULL DEFAULT '{}',
    grade_least text NOT NULL DEFAULT '',
    further boolean NOT NULL DEFAULT false,
    waived_reason text,
    version integer NOT NULL DEFAULT 1,
    UNIQUE (job_id, line_no),
    FOREIGN KEY (operation_id, job_id) REFERENCES job_operations (id, job_id)
  );
  CREATE INDEX job_lines_part ON job_lines (part_id);

  -- what was seen of this unit's own part: so many may be used again, so many not
  CREATE TABLE findings (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    job_line_id uuid NOT NULL REFERENCES job_lines,
    quantity_reused numeric(14,4) NOT NULL CHECK (quantity_reused >= 0),
    quantity_replaced numeric(14,4) NOT NULL CHECK (quantity_replaced >= 0),
    words text NOT NULL DEFAULT '',
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (quantity_reused + quantity_replaced > 0)
  );
  CREATE INDEX findings_line ON findings (job_line_id, recorded_at DESC);

  CREATE TABLE fittings (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    job_line_id uuid NOT NULL REFERENCES job_lines,
    thing_id uuid NOT NULL REFERENCES things,
    movement_id uuid NOT NULL UNIQUE REFERENCES movements,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    reused boolean NOT NULL DEFAULT false,
    in_place_of boolean NOT NULL DEFAULT false,
    why text,
    evidence text,
    override_reason text,
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (NOT in_place_of OR (why IS NOT NULL AND evidence IS NOT NULL))
  );
  CREATE INDEX fittings_line ON fittings (job_line_id);
  CREATE INDEX fittings_thing ON fittings (thing_id);

  -- a fitting ends by being taken back (a mis-scan) or by the part being taken out again (a new lot, fitted once)
  CREATE TABLE fitting_endings (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    fitting_id uuid NOT NULL REFERENCES fittings,
    kind text NOT NULL CHECK (kind IN ('taken back', 'removed')),
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    movement_id uuid NOT NULL UNIQUE REFERENCES movements,
    new_lot_id uuid REFERENCES lots,
    why text NOT NULL DEFAULT '',
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX fitting_endings_fitting ON fitting_endings (fitting_id);

  CREATE TABLE expected_receipts (
    id uuid PRIMARY KEY,
    order_reference text NOT NULL,
    supplier_id uuid NOT NULL REFERENCES parties,
    part_id uuid NOT NULL REFERENCES parts,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    quantity_received numeric(14,4) NOT NULL DEFAULT 0 CHECK (quantity_received >= 0),
    due_on date,
    confirmed boolean NOT NULL DEFAULT false,
    for_job_id uuid REFERENCES jobs,
    called_off boolean NOT NULL DEFAULT false,
    note text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1,
    UNIQUE (supplier_id, order_reference, part_id),
    CONSTRAINT received_within_ordered CHECK (quantity_received <= quantity),
    CHECK (NOT confirmed OR due_on IS NOT NULL)
  );
  CREATE INDEX expected_receipts_part ON expected_receipts (part_id) WHERE NOT called_off AND quantity_received < quantity;

  CREATE TABLE dates_given (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    job_id uuid NOT NULL REFERENCES jobs,
    given date NOT NULL,
    against_advice boolean NOT NULL,
    reason text,
    advice jsonb NOT NULL,
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (NOT against_advice OR reason <> '')
  );
  CREATE INDEX dates_given_job ON dates_given (job_id, recorded_at DESC);

  -- something that stores should look at: found in a hand against the books, a label doubted
  CREATE TABLE stores_flags (
    id uuid PRIMARY KEY,
    thing_id uuid NOT NULL REFERENCES things,
    kind text NOT NULL CHECK (kind IN ('found in hand', 'not there')),
    words text NOT NULL,
    person_id uuid REFERENCES people,
    raised_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    settled_at timestamptz,
    settled_by uuid REFERENCES people
  );
  CREATE INDEX stores_flags_open ON stores_flags (raised_at) WHERE settled_at IS NULL;

  -- the workshop's own reference of an imported row: importing it again finds what it made
  CREATE TABLE import_references (
    file text NOT NULL,
    reference text COLLATE "C" NOT NULL,
    subject_id uuid NOT NULL,
    PRIMARY KEY (file, reference)
  );

  CREATE TABLE working_week (
    weekday smallint PRIMARY KEY CHECK (weekday BETWEEN 1 AND 7),
    minutes smallint NOT NULL CHECK (minutes BETWEEN 0 AND 1440)
  );
  INSERT INTO working_week VALUES (1, 480), (2, 480), (3, 480), (4, 480), (5, 420), (6, 0), (7, 0);

  CREATE TABLE closed_days (
    day date PRIMARY KEY,
    reason text NOT NULL
  );

  ${['findings', 'fittings', 'fitting_endings', 'dates_given', 'label_runs', 'label_prints']
    .map(
      (table) =>
        `CREATE TRIGGER ${table}_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();`,
    )
    .join('\n  ')}
`;
