import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** What lines rested on when they were last looked at, and the warnings that follow where that changed for the worse. */
export class Warnings1764061200025 implements MigrationInterface {
  name = 'Warnings1764061200025';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(lookedAt);
    await runner.query(warnings);
    await grantServing(runner, 'edit-and-remove', ['line_cover', 'date_standings']);
    await grantServing(runner, 'edit', ['warnings']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE warnings, date_standings, line_cover');
  }
}

const lookedAt = `
  -- of each line of an open job, as it was found to be; written where it is found otherwise
  CREATE TABLE line_cover (
    line_id uuid PRIMARY KEY REFERENCES job_lines,
    job_id uuid NOT NULL REFERENCES jobs,
    covered numeric(14,4) NOT NULL,
    lacking numeric(14,4) NOT NULL,
    rests_on jsonb NOT NULL,
    -- lines of other jobs that get what this one lacks and could use
    rivals uuid[] NOT NULL DEFAULT '{}',
    looked_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX line_cover_job ON line_cover (job_id);

  -- whether the date that was given for an open job held when it was last looked at
  CREATE TABLE date_standings (
    job_id uuid PRIMARY KEY REFERENCES jobs,
    given date NOT NULL,
    holds boolean NOT NULL,
    looked_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
`;

const warnings = `
  CREATE TABLE warnings (
    id uuid PRIMARY KEY,
    kind text NOT NULL CHECK (kind IN ('cover lost', 'order late', 'order put back', 'date in danger', 'past its storage life', 'two want the last', 'reservation ends', 'taken by another job')),
    job_id uuid NOT NULL REFERENCES jobs,
    line_id uuid REFERENCES job_lines,
    other_job_id uuid REFERENCES jobs,
    -- what it is about: the same as long as the cause stays the same
    subject_key text COLLATE "C" NOT NULL,
    words text NOT NULL CHECK (words <> ''),
    why text NOT NULL,
    -- what the watch that raised it needs to know whether the cause is still there
    facts jsonb NOT NULL DEFAULT '{}',
    raised_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    settled_at timestamptz,
    settled_by uuid REFERENCES people,
    settled_note text,
    settling_key uuid REFERENCES commands,
    -- a cause may outlast the warning: what somebody settled is not raised again before the cause was gone
    cause_gone_at timestamptz,
    CHECK ((settled_at IS NULL) = (settled_note IS NULL)),
    CHECK ((settled_by IS NULL) = (settling_key IS NULL)),
    CHECK (cause_gone_at IS NULL OR settled_at IS NOT NULL)
  );
  CREATE UNIQUE INDEX warnings_once ON warnings (subject_key) WHERE cause_gone_at IS NULL;
  CREATE INDEX warnings_job ON warnings (job_id) WHERE cause_gone_at IS NULL;
  CREATE INDEX warnings_open ON warnings (raised_at) WHERE settled_at IS NULL;
  CREATE INDEX warnings_settled ON warnings (settled_at) WHERE settled_at IS NOT NULL;
`;
