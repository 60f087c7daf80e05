import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * Taking a unit apart: what its type expects of each component, what was seen of it and what becomes of it; units that a replaced
 * casing links; and the parts that stay together for good.
 */
export class StripDowns1764061200017 implements MigrationInterface {
  name = 'StripDowns1764061200017';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [expected, taken, stripping, keptSets, oneJob]) await runner.query(statements);
    await grantServing(runner, 'append', ['strip_findings', 'unit_links']);
    await grantServing(runner, 'edit', ['finding_words', 'strip_downs', 'kept_sets', 'kept_set_members']);
  }

  async down(): Promise<void> {
    throw new Error('What was seen at a strip-down is not taken down: restore a backup instead.');
  }
}

const fates = "'re-use here', 're-use after rework', 'send out', 'to stores', 'replace', 'hold', 'scrap', 'left in place'";

const expected = `
  -- kept_set: components of a type that bear the same words here stay together for good
  ALTER TABLE unit_type_components
    ADD COLUMN part_id uuid REFERENCES parts,
    ADD COLUMN usual_fate text CHECK (usual_fate IN (${fates})),
    ADD COLUMN kept_set text NOT NULL DEFAULT '',
    ADD COLUMN is_main_casing boolean NOT NULL DEFAULT false,
    ADD COLUMN keeps_thickness boolean NOT NULL DEFAULT false,
    ADD COLUMN version integer NOT NULL DEFAULT 1;
  CREATE UNIQUE INDEX unit_type_components_one_casing ON unit_type_components (unit_type_id) WHERE is_main_casing;

  CREATE TABLE finding_words (
    id uuid PRIMARY KEY DEFAULT gen_random_uuid(),
    word text NOT NULL CHECK (word <> ''),
    position smallint NOT NULL,
    retired boolean NOT NULL DEFAULT false,
    version integer NOT NULL DEFAULT 1
  );
  CREATE UNIQUE INDEX finding_words_once ON finding_words (lower(word));
  INSERT INTO finding_words (word, position) VALUES
    ('good', 1), ('worn', 2), ('pitted', 3), ('scored', 4), ('chipped', 5), ('blued', 6), ('cracked', 7), ('stepped', 8),
    ('brinelled', 9), ('rusted', 10), ('spun bore', 11), ('stripped thread', 12), ('bent', 13), ('twisted', 14),
    ('torn', 15), ('seized', 16), ('broken', 17);
`;

const taken = `
  -- several pieces of one position may come off one by one, or some of them together under one tag
  ALTER TABLE components
    ADD COLUMN piece smallint NOT NULL DEFAULT 1 CHECK (piece > 0),
    ADD COLUMN pieces smallint NOT NULL DEFAULT 1 CHECK (pieces > 0),
    DROP CONSTRAINT components_unit_id_position_key,
    ADD UNIQUE (unit_id, position, piece);
  CREATE FUNCTION refuse_another_unit() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    RAISE EXCEPTION 'A component came out of one unit' USING ERRCODE = 'check_violation', CONSTRAINT = 'component_of_one_unit';
  END $$;
  CREATE TRIGGER components_of_one_unit BEFORE UPDATE OF unit_id ON components
    FOR EACH ROW WHEN (OLD.unit_id <> NEW.unit_id) EXECUTE FUNCTION refuse_another_unit();

  -- out of which unit a lot was taken, and for shims how thick it is
  ALTER TABLE lots
    ADD COLUMN donor_unit_id uuid REFERENCES units,
    ADD COLUMN donor_position smallint,
    ADD COLUMN thickness_mm numeric(9,4) CHECK (thickness_mm > 0);
  CREATE INDEX lots_donor ON lots (donor_unit_id) WHERE donor_unit_id IS NOT NULL;

  -- a finding that is put right may leave nothing seen
  ALTER TABLE findings DROP CONSTRAINT findings_check;
`;

const stripping = `
  CREATE TABLE strip_downs (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    unit_id uuid NOT NULL REFERENCES units,
    unit_type_id uuid REFERENCES unit_types,
    for_job_id uuid REFERENCES jobs,
    begun_by uuid NOT NULL REFERENCES people,
    begun_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    closed_by uuid REFERENCES people,
    closed_at timestamptz,
    CHECK ((closed_at IS NULL) = (closed_by IS NULL))
  );
  CREATE INDEX strip_downs_unit ON strip_downs (unit_id, begun_at DESC);
  CREATE UNIQUE INDEX strip_downs_one_open ON strip_downs (unit_id) WHERE closed_at IS NULL;

  -- a later finding takes the place of the one that it names; both stay. What nobody looked at says so, for it counts in no yield.
  CREATE TABLE strip_findings (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    strip_down_id uuid NOT NULL REFERENCES strip_downs,
    position smallint NOT NULL CHECK (position > 0),
    name text NOT NULL CHECK (name <> ''),
    kind text NOT NULL CHECK (kind IN ('as expected', 'missing', 'extra', 'wrong')),
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    part_id uuid REFERENCES parts,
    finding text NOT NULL DEFAULT '',
    words text NOT NULL DEFAULT '',
    disposition text CHECK (disposition IN (${fates})),
    looked_at boolean NOT NULL,
    stamped text NOT NULL DEFAULT '',
    thickness_mm numeric(9,4) CHECK (thickness_mm > 0),
    owners_word text NOT NULL DEFAULT '',
    thing_id uuid REFERENCES things,
    supersedes_id uuid UNIQUE REFERENCES strip_findings,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK ((kind = 'missing') = (disposition IS NULL)),
    CHECK (supersedes_id <> id)
  );
  CREATE INDEX strip_findings_strip_down ON strip_findings (strip_down_id, position, recorded_at);
  CREATE INDEX strip_findings_thing ON strip_findings (thing_id);
  CREATE TRIGGER strip_findings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON strip_findings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION only_close_strip_down() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF OLD.closed_at IS NOT NULL OR NEW.closed_at IS NULL
       OR (to_jsonb(NEW) - ARRAY['closed_at', 'closed_by']) IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['closed_at', 'closed_by']) THEN
      RAISE EXCEPTION 'A strip-down is finished once and not changed otherwise' USING ERRCODE = 'CW001';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER strip_downs_only_closed BEFORE UPDATE ON strip_downs FOR EACH ROW EXECUTE FUNCTION only_close_strip_down();
  CREATE TRIGGER strip_downs_kept BEFORE DELETE OR TRUNCATE ON strip_downs FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  -- the insides of one unit go on in the casing of another; what is stamped on either stays its own
  CREATE TABLE unit_links (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    from_unit_id uuid NOT NULL UNIQUE REFERENCES units,
    to_unit_id uuid NOT NULL REFERENCES units,
    kind text NOT NULL CHECK (kind IN ('casing replaced')),
    words text NOT NULL CHECK (words <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (from_unit_id <> to_unit_id)
  );
  CREATE INDEX unit_links_to ON unit_links (to_unit_id);
  CREATE TRIGGER unit_links_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON unit_links FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const keptSets = `
  CREATE TABLE kept_sets (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    number text NOT NULL DEFAULT '',
    number_key text COLLATE "C" NOT NULL DEFAULT '',
    words text NOT NULL CHECK (words <> ''),
    unit_id uuid REFERENCES units,
    mismatch_reason text NOT NULL DEFAULT '',
    bound_by uuid NOT NULL REFERENCES people,
    bound_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    broken_by uuid REFERENCES people,
    broken_at timestamptz,
    broken_on_word_of text,
    broken_why text,
    CHECK ((broken_at IS NULL) = (broken_by IS NULL) AND (broken_at IS NULL) = (broken_on_word_of IS NULL)
       AND (broken_at IS NULL) = (broken_why IS NULL) AND broken_on_word_of <> '' AND broken_why <> '')
  );
  CREATE INDEX kept_sets_number ON kept_sets (number_key) WHERE number_key <> '';
  CREATE INDEX kept_sets_unit ON kept_sets (unit_id);

  -- bound: it may go to no other job than its fellows; a member that is no longer bound is odd
  CREATE TABLE kept_set_members (
    set_id uuid NOT NULL REFERENCES kept_sets,
    thing_id uuid NOT NULL REFERENCES things,
    stamped text NOT NULL DEFAULT '',
    stamped_key text COLLATE "C" NOT NULL DEFAULT '',
    bound boolean NOT NULL DEFAULT true,
    joined_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    PRIMARY KEY (set_id, thing_id)
  );
  CREATE UNIQUE INDEX kept_set_members_of_one_set ON kept_set_members (thing_id) WHERE bound;
  CREATE INDEX kept_set_members_thing ON kept_set_members (thing_id);
  CREATE INDEX kept_set_members_stamped ON kept_set_members (stamped_key) WHERE stamped_key <> '';

  CREATE FUNCTION only_break_kept_set() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    said_later text[] := ARRAY['number', 'number_key', 'mismatch_reason', 'broken_at', 'broken_by', 'broken_on_word_of', 'broken_why'];
  BEGIN
    IF OLD.broken_at IS NOT NULL OR (to_jsonb(NEW) - said_later) IS DISTINCT FROM (to_jsonb(OLD) - said_later) THEN
      RAISE EXCEPTION 'A kept set is broken once and not changed otherwise' USING ERRCODE = 'CW001';
    END IF;
    IF NEW.broken_at IS NOT NULL THEN
      UPDATE kept_set_members SET bound = false WHERE set_id = NEW.id AND bound;
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER kept_sets_only_broken BEFORE UPDATE ON kept_sets FOR EACH ROW EXECUTE FUNCTION only_break_kept_set();
  CREATE TRIGGER kept_sets_kept BEFORE DELETE OR TRUNCATE ON kept_sets FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER kept_set_members_kept BEFORE DELETE OR TRUNCATE ON kept_set_members FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const oneJob = `
  -- what has claimed or taken a member of a set
  CREATE FUNCTION takers_of_kept_set(wanted uuid) RETURNS SETOF uuid LANGUAGE sql STABLE AS $$
    SELECT claimant_id FROM kept_set_members JOIN claims USING (thing_id) WHERE set_id = wanted AND bound AND claims.quantity > 0
    UNION
    SELECT job_id FROM kept_set_members JOIN fittings USING (thing_id) JOIN job_lines ON job_lines.id = job_line_id
     WHERE set_id = wanted AND bound
       AND fittings.quantity > coalesce((SELECT sum(quantity) FROM fitting_endings WHERE fitting_id = fittings.id), 0)
  $$;

  -- Nearly everything belongs to no set: one look at an index. Two members at the same moment wait for one another at their set's row.
  CREATE FUNCTION keep_set_for_one_job() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    found_set uuid;
  BEGIN
    SELECT set_id INTO found_set FROM kept_set_members WHERE thing_id = NEW.thing_id AND bound;
    IF found_set IS NULL THEN RETURN NULL; END IF;
    PERFORM 1 FROM kept_sets WHERE id = found_set FOR NO KEY UPDATE;
    IF (SELECT count(*) FROM takers_of_kept_set(found_set)) > 1 THEN
      RAISE EXCEPTION 'A kept set goes to one job' USING ERRCODE = 'check_violation', CONSTRAINT = 'kept_set_one_job';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER claims_keep_sets AFTER INSERT OR UPDATE OF quantity ON claims FOR EACH ROW WHEN (NEW.quantity > 0) EXECUTE FUNCTION keep_set_for_one_job();
  CREATE TRIGGER fittings_keep_sets AFTER INSERT ON fittings FOR EACH ROW EXECUTE FUNCTION keep_set_for_one_job();
  CREATE TRIGGER kept_set_members_one_job AFTER INSERT ON kept_set_members FOR EACH ROW EXECUTE FUNCTION keep_set_for_one_job();
`;
