import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing, grantServingColumns } from './serving-grants.js';

/**
 * What stands apart from stock: who may lift a hold and when to look again, what is condemned for good, whose a thing became by
 * which act, and what is kept for its owner. The triggers keep the columns of things; the serving login writes the acts alone.
 */
export class GoodsApart1764061200033 implements MigrationInterface {
  name = 'GoodsApart1764061200033';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [holds, condemned, owners, kept, apart]) await runner.query(statements);
    await grantServing(runner, 'append', [
      'condemnations',
      'condemned_disposals',
      'owner_changes',
      'kept_for_owners',
      'kept_for_owner_notes',
    ]);
    await grantServingColumns(runner, 'kept_for_owners', [
      'look_again_on',
      'ended_at',
      'ended_how',
      'ended_words',
      'ended_by',
      'ending_key',
    ]);
    await grantServingColumns(runner, 'things', ['held_back_since', 'hold_lifter_id', 'hold_look_again_on']);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`REVOKE UPDATE (owner_id, condemned) ON things FROM ${row?.role}`);
  }

  async down(runner: QueryRunner): Promise<void> {
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`GRANT UPDATE (owner_id, condemned) ON things TO ${row?.role}`);
    await runner.query(`
      DROP TRIGGER movements_of_what_stands_apart ON movements;
      DROP FUNCTION refuse_use_of_what_stands_apart();
      DROP TABLE kept_for_owner_notes, kept_for_owners, owner_changes, condemned_disposals, condemnations;
      DROP FUNCTION keep_kept_for_owner(), end_kept_for_owner_once(), keep_owner(), keep_condemned();
      DROP TRIGGER things_condemned_for_good ON things;
      DROP FUNCTION refuse_uncondemning();
      ALTER TABLE jobs DROP CONSTRAINT jobs_have_a_known_customer;
      ALTER TABLE things DROP CONSTRAINT condemned_is_claimed_by_nobody, DROP CONSTRAINT kept_for_its_owner_is_claimed_by_nobody,
        DROP COLUMN kept_for_owner, DROP COLUMN held_back_since, DROP COLUMN hold_lifter_id, DROP COLUMN hold_look_again_on;
      ALTER TABLE hold_changes DROP COLUMN lifter_id, DROP COLUMN look_again_on;`);
  }
}

const holds = `
  ALTER TABLE things
    ADD COLUMN held_back_since timestamptz,
    -- null: whoever keeps the books
    ADD COLUMN hold_lifter_id uuid REFERENCES people,
    ADD COLUMN hold_look_again_on date;
  UPDATE things SET held_back_since = coalesce(
      (SELECT max(recorded_at) FROM hold_changes WHERE thing_id = things.id AND held_back), created_at)
   WHERE held_back_reason IS NOT NULL;
  CREATE INDEX things_held_back ON things (held_back_since) WHERE held_back_reason IS NOT NULL;
  ALTER TABLE hold_changes ADD COLUMN lifter_id uuid REFERENCES people, ADD COLUMN look_again_on date;
`;

const condemned = `
  CREATE TABLE condemnations (
    thing_id uuid PRIMARY KEY REFERENCES things,
    command_key uuid NOT NULL REFERENCES commands,
    reason text NOT NULL CHECK (reason <> ''),
    -- why nobody took one; empty where there is one
    no_picture text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE TRIGGER condemnations_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON condemnations FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION keep_condemned() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    UPDATE things SET condemned = true, version = version + 1 WHERE id = NEW.thing_id;
    RETURN NULL;
  END $$;
  CREATE TRIGGER condemnations_told AFTER INSERT ON condemnations FOR EACH ROW EXECUTE FUNCTION keep_condemned();

  CREATE FUNCTION refuse_uncondemning() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    RAISE EXCEPTION 'what is condemned stays condemned' USING ERRCODE = 'CW033';
  END $$;
  CREATE TRIGGER things_condemned_for_good BEFORE UPDATE OF condemned ON things
    FOR EACH ROW WHEN (OLD.condemned AND NOT NEW.condemned) EXECUTE FUNCTION refuse_uncondemning();

  CREATE TABLE condemned_disposals (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES condemnations (thing_id),
    how text NOT NULL CHECK (how IN ('scrapped', 'given back', 'kept as a pattern', 'kept for display')),
    words text NOT NULL CHECK (words <> ''),
    -- who of the owner's said so, and how
    owners_word text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX condemned_disposals_thing ON condemned_disposals (thing_id, recorded_at DESC);
  CREATE TRIGGER condemned_disposals_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON condemned_disposals FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const owners = `
  -- the owner of what nobody knows whose it is, and where such things come from; known to the code by this id
  INSERT INTO parties (id, name) VALUES ('00000000-0000-7000-8000-00000000f0d0', 'an owner nobody knows') ON CONFLICT DO NOTHING;
  INSERT INTO holders (id, kind) VALUES ('00000000-0000-7000-8000-00000000f0d0', 'customer') ON CONFLICT DO NOTHING;
  ALTER TABLE jobs ADD CONSTRAINT jobs_have_a_known_customer CHECK (customer_id <> '00000000-0000-7000-8000-00000000f0d0');

  CREATE TABLE owner_changes (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    from_owner_id uuid REFERENCES parties,
    to_owner_id uuid REFERENCES parties,
    how text NOT NULL CHECK (how IN ('bought', 'given to us', 'given to them', 'theirs after all', 'claimed', 'put right')),
    -- what was paid, in the workshop's currency; null where nobody said
    price_minor bigint CHECK (price_minor >= 0),
    currency char(3),
    on_day date NOT NULL,
    words text NOT NULL CHECK (words <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (from_owner_id IS DISTINCT FROM to_owner_id),
    CHECK (price_minor IS NULL OR (how = 'bought' AND currency IS NOT NULL))
  );
  CREATE INDEX owner_changes_thing ON owner_changes (thing_id, sequence DESC);
  CREATE TRIGGER owner_changes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON owner_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION keep_owner() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    UPDATE things SET owner_id = NEW.to_owner_id, version = version + 1
     WHERE id = NEW.thing_id AND owner_id IS NOT DISTINCT FROM NEW.from_owner_id;
    IF NOT FOUND THEN
      RAISE EXCEPTION 'a thing changes its owner from the one that it has' USING ERRCODE = 'CW034';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER owner_changes_told AFTER INSERT ON owner_changes FOR EACH ROW EXECUTE FUNCTION keep_owner();
`;

const kept = `
  ALTER TABLE things ADD COLUMN kept_for_owner boolean NOT NULL DEFAULT false;

  -- found property, and what waits to be collected or decided on
  CREATE TABLE kept_for_owners (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    kind text NOT NULL CHECK (kind IN ('found property', 'to be collected', 'core not accepted', 'left over from a job', 'job not paid', 'to be decided by its owner')),
    words text NOT NULL CHECK (words <> ''),
    found_where text NOT NULL DEFAULT '',
    found_by text NOT NULL DEFAULT '',
    since date NOT NULL,
    ask_whom text NOT NULL DEFAULT '',
    look_again_on date NOT NULL,
    -- the hold was put on with it, and goes with it
    holds boolean NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    ended_at timestamptz,
    ended_how text CHECK (ended_how IN ('collected', 'claimed', 'given away', 'scrapped', 'bought')),
    ended_words text,
    ended_by uuid REFERENCES people,
    ending_key uuid REFERENCES commands,
    CHECK (num_nulls(ended_at, ended_how, ended_words, ended_by, ending_key) IN (0, 5))
  );
  CREATE UNIQUE INDEX kept_for_owners_once ON kept_for_owners (thing_id) WHERE ended_at IS NULL;
  CREATE INDEX kept_for_owners_due ON kept_for_owners (look_again_on) WHERE ended_at IS NULL;
  CREATE TRIGGER kept_for_owners_stay BEFORE DELETE OR TRUNCATE ON kept_for_owners FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION end_kept_for_owner_once() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    RAISE EXCEPTION 'what has ended stays on the record as it ended' USING ERRCODE = 'CW035';
  END $$;
  CREATE TRIGGER kept_for_owners_end_once BEFORE UPDATE ON kept_for_owners
    FOR EACH ROW WHEN (OLD.ended_at IS NOT NULL) EXECUTE FUNCTION end_kept_for_owner_once();

  CREATE FUNCTION keep_kept_for_owner() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    UPDATE things SET kept_for_owner = (NEW.ended_at IS NULL), version = version + 1
     WHERE id = NEW.thing_id AND kept_for_owner <> (NEW.ended_at IS NULL);
    RETURN NULL;
  END $$;
  CREATE TRIGGER kept_for_owners_told AFTER INSERT OR UPDATE ON kept_for_owners FOR EACH ROW EXECUTE FUNCTION keep_kept_for_owner();

  -- letters, calls and visits
  CREATE TABLE kept_for_owner_notes (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    kept_id uuid NOT NULL REFERENCES kept_for_owners,
    way text NOT NULL CHECK (way IN ('letter', 'call', 'visit', 'message', 'advice taken', 'looked at')),
    said_on date NOT NULL,
    with_whom text NOT NULL DEFAULT '',
    words text NOT NULL CHECK (words <> ''),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX kept_for_owner_notes_of ON kept_for_owner_notes (kept_id, said_on, recorded_at);
  CREATE TRIGGER kept_for_owner_notes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON kept_for_owner_notes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const apart = `
  -- where a claim was left on what is condemned it could never be served
  ALTER TABLE things
    ADD CONSTRAINT condemned_is_claimed_by_nobody CHECK (NOT condemned OR claimed = 0) NOT VALID,
    ADD CONSTRAINT kept_for_its_owner_is_claimed_by_nobody CHECK (NOT kept_for_owner OR claimed = 0);

  -- a tray and a unit are where things go to be used; what is taken out of them may leave
  CREATE FUNCTION refuse_use_of_what_stands_apart() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (SELECT FROM things WHERE id = NEW.thing_id AND (condemned OR kept_for_owner))
       AND EXISTS (SELECT FROM holders WHERE id = NEW.to_holder_id AND kind IN ('tray', 'unit')) THEN
      RAISE EXCEPTION 'what is condemned or kept for its owner is neither picked nor fitted' USING ERRCODE = 'CW036';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER movements_of_what_stands_apart AFTER INSERT ON movements FOR EACH ROW EXECUTE FUNCTION refuse_use_of_what_stands_apart();
`;
