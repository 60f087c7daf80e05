import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** What each build standard accepts, and the parts accepted in place of what a line of a job asks for. */
export class Substitutes1764061200009 implements MigrationInterface {
  name = 'Substitutes1764061200009';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(substitutes);
    await grantServing(runner, 'edit', ['build_standards', 'substitutes']);
  }

  async down(): Promise<void> {
    throw new Error('What was accepted is not taken down: restore a backup instead.');
  }
}

const substitutes = `
  -- what a job built so accepts where a line itself says nothing; an empty list accepts any
  CREATE TABLE build_standards (
    id uuid PRIMARY KEY DEFAULT gen_random_uuid(),
    name text NOT NULL UNIQUE CHECK (name IN ('as original', 'serviceable', 'customer''s choice')),
    position smallint NOT NULL UNIQUE,
    ways text[] NOT NULL CHECK (ways <@ ARRAY['same as', 'superseding', 'will serve for']),
    sources text[] NOT NULL DEFAULT '{}',
    makes text[] NOT NULL DEFAULT '{}',
    grade_least text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1
  );
  -- as original takes no part that merely serves; makes are left to the lines, for gaskets and seals are seldom to be had but as pattern
  INSERT INTO build_standards (name, position, ways) VALUES
    ('as original', 1, '{same as,superseding}'),
    ('serviceable', 2, '{same as,superseding,will serve for}'),
    ('customer''s choice', 3, '{same as,superseding,will serve for}');

  -- where two parts that are called the same differ by the table of bearings: said when it was accepted
  ALTER TABLE relations ADD COLUMN doubt text NOT NULL DEFAULT '';

  -- for this line of this job alone; what holds for every job is a relation, named beside it
  CREATE TABLE substitutes (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    job_line_id uuid NOT NULL REFERENCES job_lines,
    part_id uuid NOT NULL REFERENCES parts,
    marking text NOT NULL,
    bore_mm numeric(9,4) CHECK (bore_mm > 0),
    outside_mm numeric(9,4) CHECK (outside_mm > 0),
    width_mm numeric(9,4) CHECK (width_mm > 0),
    measured_read text NOT NULL DEFAULT '',
    evidence_kind text NOT NULL CHECK (evidence_kind IN ('catalogue', 'measured', 'trial fitted', 'told')),
    evidence_words text NOT NULL CHECK (evidence_words <> ''),
    deviation text NOT NULL DEFAULT '',
    position text NOT NULL CHECK (position <> ''),
    relation_id uuid REFERENCES relations,
    accepted_by uuid NOT NULL REFERENCES people,
    accepted_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    withdrawn_by uuid REFERENCES people,
    withdrawn_at timestamptz,
    withdrawn_why text,
    CHECK ((withdrawn_at IS NULL) = (withdrawn_by IS NULL) AND (withdrawn_at IS NULL) = (withdrawn_why IS NULL) AND withdrawn_why <> '')
  );
  CREATE UNIQUE INDEX substitutes_live_once ON substitutes (job_line_id, part_id) WHERE withdrawn_at IS NULL;
  CREATE INDEX substitutes_line ON substitutes (job_line_id);
  CREATE INDEX substitutes_relation ON substitutes (relation_id);

  CREATE FUNCTION only_withdraw_substitute() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF OLD.withdrawn_at IS NOT NULL OR NEW.withdrawn_at IS NULL
       OR (to_jsonb(NEW) - ARRAY['withdrawn_at', 'withdrawn_by', 'withdrawn_why'])
          IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['withdrawn_at', 'withdrawn_by', 'withdrawn_why']) THEN
      RAISE EXCEPTION 'What was accepted for a line is withdrawn once and not changed otherwise' USING ERRCODE = 'CW001';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER substitutes_only_withdrawn BEFORE UPDATE ON substitutes FOR EACH ROW EXECUTE FUNCTION only_withdraw_substitute();
  CREATE TRIGGER substitutes_kept BEFORE DELETE OR TRUNCATE ON substitutes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
