import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** Grades and what a type is known by can be edited; what is asked of a core of a type; what was looked at on one, and what was decided by it. */
export class Acceptance1764061200020 implements MigrationInterface {
  name = 'Acceptance1764061200020';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(editableGrades);
    await runner.query(editableKnownBy);
    await runner.query(acceptance);
    await grantServing(runner, 'edit-and-remove', ['acceptance_terms', 'acceptance_shares']);
    await grantServing(runner, 'append', ['acceptances', 'acceptance_decisions']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE acceptance_decisions, acceptances, acceptance_shares, acceptance_terms');
    await runner.query(knownByAsBefore);
    await runner.query(gradesAsBefore);
  }
}

/** Ranks are checked at the end of a statement: those that make room for one another move in one. */
const editableGrades = `
  ALTER TABLE grades
    ADD COLUMN id uuid NOT NULL DEFAULT gen_random_uuid() UNIQUE,
    ADD COLUMN retired boolean NOT NULL DEFAULT false,
    ADD COLUMN version integer NOT NULL DEFAULT 1,
    DROP CONSTRAINT grades_scale_rank_key,
    ADD CONSTRAINT grades_scale_rank_key UNIQUE (scale, rank) DEFERRABLE INITIALLY IMMEDIATE`;

const gradesAsBefore = `
  ALTER TABLE grades
    DROP COLUMN id, DROP COLUMN retired, DROP COLUMN version,
    DROP CONSTRAINT grades_scale_rank_key,
    ADD CONSTRAINT grades_scale_rank_key UNIQUE (scale, rank)`;

/** A sign that is withdrawn is looked for no longer; photographs of it stay. Serial numbers and teeth of a type are edited together. */
const editableKnownBy = `
  ALTER TABLE unit_type_signs ADD COLUMN version integer NOT NULL DEFAULT 1, ADD COLUMN withdrawn boolean NOT NULL DEFAULT false;
  ALTER TABLE unit_types ADD COLUMN numbers_version integer NOT NULL DEFAULT 1`;

const knownByAsBefore = `
  ALTER TABLE unit_types DROP COLUMN numbers_version;
  ALTER TABLE unit_type_signs DROP COLUMN version, DROP COLUMN withdrawn`;

const acceptance = `
  -- what is asked of a core of a type, point by point in words, and what a full acceptable one is credited with; null is not said
  CREATE TABLE acceptance_terms (
    unit_type_id uuid PRIMARY KEY REFERENCES unit_types,
    complete text NOT NULL DEFAULT '',
    assembled text NOT NULL DEFAULT '',
    cracks text NOT NULL DEFAULT '',
    holes text NOT NULL DEFAULT '',
    heat text NOT NULL DEFAULT '',
    weld text NOT NULL DEFAULT '',
    full_credit_minor bigint CHECK (full_credit_minor >= 0),
    version integer NOT NULL DEFAULT 1
  );

  -- percent of a good core's worth that hangs on a component; what is left of a hundred is the casing and the rest
  CREATE TABLE acceptance_shares (
    unit_type_id uuid NOT NULL REFERENCES acceptance_terms,
    position smallint NOT NULL,
    share numeric(7,4) NOT NULL CHECK (share > 0 AND share <= 100),
    PRIMARY KEY (unit_type_id, position),
    FOREIGN KEY (unit_type_id, position) REFERENCES unit_type_components (unit_type_id, position)
  );

  -- a sheet filled in: what was looked at, by what it was judged, and what that suggests, as it was on the day
  CREATE TABLE acceptances (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    unit_id uuid NOT NULL REFERENCES units,
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    answers jsonb NOT NULL,
    inputs jsonb NOT NULL,
    suggestion jsonb NOT NULL,
    currency text NOT NULL,
    supersedes_id uuid UNIQUE REFERENCES acceptances,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX acceptances_unit ON acceptances (unit_id, recorded_at DESC);

  CREATE TABLE acceptance_decisions (
    acceptance_id uuid PRIMARY KEY REFERENCES acceptances,
    command_key uuid NOT NULL REFERENCES commands,
    grade text NOT NULL CHECK (grade <> ''),
    credit_minor bigint CHECK (credit_minor >= 0),
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    decided_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  CREATE TRIGGER acceptances_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON acceptances FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER acceptance_decisions_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON acceptance_decisions
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
