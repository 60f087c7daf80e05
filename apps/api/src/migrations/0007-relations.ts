import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** What became of a part, what is the same as it, what will serve for it: each with its evidence, withdrawn and never deleted. */
export class Relations1764061200007 implements MigrationInterface {
  name = 'Relations1764061200007';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(relations);
    await grantServing(runner, 'edit', ['relations']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE relations; DROP FUNCTION only_withdraw_relation()');
  }
}

const relations = `
  -- supersession: from became to; will serve for: from may be fitted in place of to; same as: both ways.
  -- rows of one group were accepted together: a kit takes the place of one part only as a whole
  CREATE TABLE relations (
    id uuid PRIMARY KEY,
    group_id uuid NOT NULL,
    kind text NOT NULL CHECK (kind IN ('supersession', 'same as', 'will serve for')),
    from_part_id uuid NOT NULL REFERENCES parts,
    to_part_id uuid NOT NULL REFERENCES parts,
    is_kit boolean NOT NULL DEFAULT false,
    conditions text NOT NULL DEFAULT '',
    since text COLLATE "C",
    evidence_kind text NOT NULL CHECK (evidence_kind IN ('catalogue', 'measured', 'trial fitted', 'told')),
    evidence_words text NOT NULL CHECK (evidence_words <> ''),
    accepted_by uuid NOT NULL REFERENCES people,
    accepted_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    withdrawn_by uuid REFERENCES people,
    withdrawn_at timestamptz,
    withdrawn_why text,
    CHECK (from_part_id <> to_part_id),
    CHECK (kind = 'supersession' OR (since IS NULL AND NOT is_kit)),
    CHECK (since ~ '^(18[89]|19[0-9]|20[0-9])[0-9](-[0-9]{2}(-[0-9]{2})?)?$'),
    CHECK ((withdrawn_at IS NULL) = (withdrawn_by IS NULL) AND (withdrawn_at IS NULL) = (withdrawn_why IS NULL) AND withdrawn_why <> '')
  );
  CREATE INDEX relations_from ON relations (from_part_id, kind);
  CREATE INDEX relations_to ON relations (to_part_id, kind);
  CREATE INDEX relations_group ON relations (group_id);
  CREATE UNIQUE INDEX relations_live_once ON relations (kind, from_part_id, to_part_id) WHERE withdrawn_at IS NULL;
  -- the same both ways is one relation, whichever of the two was named first
  CREATE UNIQUE INDEX relations_same_once ON relations (least(from_part_id, to_part_id), greatest(from_part_id, to_part_id))
    WHERE withdrawn_at IS NULL AND kind = 'same as';

  CREATE FUNCTION only_withdraw_relation() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF OLD.withdrawn_at IS NOT NULL OR NEW.withdrawn_at IS NULL
       OR (to_jsonb(NEW) - ARRAY['withdrawn_at', 'withdrawn_by', 'withdrawn_why'])
          IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['withdrawn_at', 'withdrawn_by', 'withdrawn_why']) THEN
      RAISE EXCEPTION 'A relation is withdrawn once and not changed otherwise' USING ERRCODE = 'CW001';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER relations_only_withdrawn BEFORE UPDATE ON relations FOR EACH ROW EXECUTE FUNCTION only_withdraw_relation();
  CREATE TRIGGER relations_kept BEFORE DELETE OR TRUNCATE ON relations FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
