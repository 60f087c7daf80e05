import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/**
 * The ledger of things. The database itself keeps the balance with each movement and refuses: a negative balance at a
 * holder of ours, a second holder of a single thing, claims above what is held, and any change of a movement.
 */
export class Ledger1764061200003 implements MigrationInterface {
  name = 'Ledger1764061200003';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(tables);
    await runner.query(keeping);
    await grantServing(runner, 'append', ['movements']);
    await grantServing(runner, 'edit', [
      'parties',
      'holders',
      'places',
      'units',
      'lots',
      'components',
      'unsorted_boxes',
      'claims',
    ]);
    // Counters and balances belong to the triggers (SECURITY DEFINER); the login may write facts only.
    await grantServing(runner, 'append', ['things']);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(
      `GRANT UPDATE (owner_id, held_back_reason, held_back_by, condemned, missing_since, version) ON things TO ${row?.role}`,
    );
    await runner.query(`GRANT SELECT ON balances TO ${row?.role}`);
    await grantSequences(runner, ['movements_sequence_seq']);
  }

  async down(): Promise<void> {
    throw new Error('The ledger is not taken down: restore a backup instead.');
  }
}

const tables = `
  CREATE TABLE parties (
    id uuid PRIMARY KEY,
    name text NOT NULL UNIQUE CHECK (name <> ''),
    is_customer boolean NOT NULL DEFAULT false,
    is_supplier boolean NOT NULL DEFAULT false,
    is_outworker boolean NOT NULL DEFAULT false,
    note text NOT NULL DEFAULT ''
  );

  -- boundary: beyond our books (seller, customer, scrap, count difference); its balance may fall below nothing
  -- counts: what lies there is held by us: places and trays
  CREATE TABLE holders (
    id uuid PRIMARY KEY,
    kind text NOT NULL CHECK (kind IN ('place', 'tray', 'unit', 'outworker', 'supplier', 'customer', 'scrap', 'count-difference')),
    boundary boolean NOT NULL GENERATED ALWAYS AS (kind IN ('supplier', 'customer', 'scrap', 'count-difference')) STORED,
    counts boolean NOT NULL GENERATED ALWAYS AS (kind IN ('place', 'tray')) STORED,
    UNIQUE (id, boundary)
  );
  -- known to the code by these ids: the count difference and the scrap
  INSERT INTO holders (id, kind) VALUES
    ('00000000-0000-7000-8000-00000000c0d1', 'count-difference'),
    ('00000000-0000-7000-8000-0000000005c4', 'scrap');

  CREATE TABLE places (
    holder_id uuid PRIMARY KEY REFERENCES holders,
    parent_id uuid REFERENCES places,
    name text NOT NULL CHECK (name <> ''),
    kind text NOT NULL CHECK (kind IN ('site', 'area', 'rack', 'bin', 'tray', 'quarantine')),
    nicknames text NOT NULL DEFAULT '',
    UNIQUE NULLS NOT DISTINCT (parent_id, name),
    CHECK (parent_id <> holder_id)
  );

  CREATE TABLE things (
    id uuid PRIMARY KEY,
    kind char(1) NOT NULL CHECK (kind IN ('U', 'L', 'C', 'X')),
    single boolean NOT NULL GENERATED ALWAYS AS (kind <> 'L') STORED,
    owner_id uuid REFERENCES parties,
    held numeric(14,4) NOT NULL DEFAULT 0 CHECK (held >= 0),
    claimed numeric(14,4) NOT NULL DEFAULT 0 CHECK (claimed >= 0),
    held_back_reason text,
    held_back_by uuid REFERENCES people,
    condemned boolean NOT NULL DEFAULT false,
    missing_since timestamptz,
    version integer NOT NULL DEFAULT 1,
    created_at timestamptz NOT NULL DEFAULT now(),
    UNIQUE (id, single),
    CONSTRAINT claims_within_held CHECK (claimed <= held)
  );

  CREATE TABLE units (
    thing_id uuid PRIMARY KEY REFERENCES things,
    unit_type_id uuid REFERENCES unit_types,
    words text NOT NULL DEFAULT '',
    grade text NOT NULL DEFAULT '',
    marks text NOT NULL DEFAULT '',
    marks_key text COLLATE "C" NOT NULL DEFAULT '',
    note text NOT NULL DEFAULT '',
    stage text NOT NULL DEFAULT 'core' CHECK (stage IN ('core', 'in work', 'stripped', 'rebuilt'))
  );
  CREATE INDEX units_marks ON units (marks_key) WHERE marks_key <> '';
  CREATE INDEX units_type ON units (unit_type_id);

  CREATE TABLE lots (
    thing_id uuid PRIMARY KEY REFERENCES things,
    part_id uuid REFERENCES parts,
    words text NOT NULL DEFAULT '',
    source text NOT NULL CHECK (source IN ('this unit', 'harvested', 'bought used', 'old stock', 'new', 'made here', 'unknown')),
    make text NOT NULL CHECK (make IN ('genuine', 'original supplier', 'pattern', 'made here', 'unknown')),
    maker_id uuid REFERENCES makers,
    marks text NOT NULL DEFAULT '',
    condition text NOT NULL DEFAULT '',
    packet_read text NOT NULL DEFAULT '',
    packet_precision text NOT NULL DEFAULT 'unknown' CHECK (packet_precision IN ('day', 'month', 'quarter', 'year', 'unknown')),
    packet_earliest date,
    packet_latest date,
    packet_condition text NOT NULL DEFAULT 'none' CHECK (packet_condition IN ('sealed', 'opened', 're-boxed', 'none')),
    fitted_once boolean NOT NULL DEFAULT false,
    taken_from_lot_id uuid REFERENCES lots,
    note text NOT NULL DEFAULT '',
    CHECK ((packet_earliest IS NULL) = (packet_latest IS NULL)),
    CHECK (packet_earliest <= packet_latest),
    CHECK ((packet_precision = 'unknown') OR packet_earliest IS NOT NULL),
    CONSTRAINT fitted_once_is_never_old_stock CHECK (NOT (fitted_once AND source = 'old stock'))
  );
  CREATE INDEX lots_part ON lots (part_id);

  CREATE TABLE components (
    thing_id uuid PRIMARY KEY REFERENCES things,
    unit_id uuid NOT NULL REFERENCES units,
    position smallint NOT NULL CHECK (position > 0),
    name text NOT NULL,
    part_id uuid REFERENCES parts,
    note text NOT NULL DEFAULT '',
    UNIQUE (unit_id, position)
  );

  CREATE TABLE unsorted_boxes (
    thing_id uuid PRIMARY KEY REFERENCES things,
    words text NOT NULL CHECK (words <> ''),
    piece_count integer CHECK (piece_count > 0),
    note text NOT NULL DEFAULT ''
  );

  CREATE TABLE movements (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    from_holder_id uuid NOT NULL REFERENCES holders,
    to_holder_id uuid NOT NULL REFERENCES holders,
    reason text NOT NULL CHECK (reason <> ''),
    person_id uuid REFERENCES people,
    occurred_at timestamptz NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    reverses_id uuid UNIQUE REFERENCES movements,
    CHECK (from_holder_id <> to_holder_id)
  );
  CREATE INDEX movements_thing ON movements (thing_id, sequence DESC);
  CREATE INDEX movements_command ON movements (command_key);

  CREATE TABLE balances (
    thing_id uuid NOT NULL,
    holder_id uuid NOT NULL,
    single boolean NOT NULL,
    boundary boolean NOT NULL,
    quantity numeric(14,4) NOT NULL,
    PRIMARY KEY (thing_id, holder_id),
    FOREIGN KEY (thing_id, single) REFERENCES things (id, single),
    FOREIGN KEY (holder_id, boundary) REFERENCES holders (id, boundary),
    CONSTRAINT nothing_below_none CHECK (boundary OR quantity >= 0),
    CONSTRAINT a_single_thing_is_one CHECK (NOT single OR quantity <= 1)
  ) WITH (fillfactor = 80);
  CREATE UNIQUE INDEX balances_one_holder_of_a_single_thing ON balances (thing_id) WHERE single AND quantity > 0;
  CREATE INDEX balances_holder ON balances (holder_id) WHERE quantity <> 0;

  -- a claim is made by a claimant's id: stores does not know that it is a job
  CREATE TABLE claims (
    id uuid PRIMARY KEY,
    thing_id uuid NOT NULL REFERENCES things,
    claimant_id uuid NOT NULL,
    purpose_id uuid,
    quantity numeric(14,4) NOT NULL CHECK (quantity >= 0),
    made_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    UNIQUE NULLS NOT DISTINCT (thing_id, claimant_id, purpose_id)
  );
  CREATE INDEX claims_claimant ON claims (claimant_id) WHERE quantity > 0;
  CREATE UNIQUE INDEX claims_purpose ON claims (purpose_id, thing_id);
`;

const keeping = `
  CREATE TRIGGER movements_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON movements FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION keep_balance() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  DECLARE
    source holders%ROWTYPE;
    target holders%ROWTYPE;
    is_single boolean;
  BEGIN
    SELECT * INTO STRICT source FROM holders WHERE id = NEW.from_holder_id;
    SELECT * INTO STRICT target FROM holders WHERE id = NEW.to_holder_id;
    IF source.counts <> target.counts THEN
      UPDATE things SET held = held + CASE WHEN target.counts THEN NEW.quantity ELSE -NEW.quantity END
        WHERE id = NEW.thing_id RETURNING single INTO is_single;
    ELSE
      SELECT single INTO is_single FROM things WHERE id = NEW.thing_id FOR NO KEY UPDATE;
    END IF;
    -- the giving side first: a single thing must have left before it can arrive
    UPDATE balances SET quantity = quantity - NEW.quantity WHERE thing_id = NEW.thing_id AND holder_id = source.id;
    IF NOT FOUND THEN
      INSERT INTO balances VALUES (NEW.thing_id, source.id, is_single, source.boundary, -NEW.quantity);
    END IF;
    INSERT INTO balances VALUES (NEW.thing_id, target.id, is_single, target.boundary, NEW.quantity)
      ON CONFLICT (thing_id, holder_id) DO UPDATE SET quantity = balances.quantity + EXCLUDED.quantity;
    RETURN NULL;
  END $$;
  CREATE TRIGGER movements_balance AFTER INSERT ON movements FOR EACH ROW EXECUTE FUNCTION keep_balance();

  CREATE FUNCTION keep_claimed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    IF TG_OP = 'INSERT' THEN
      UPDATE things SET claimed = claimed + NEW.quantity WHERE id = NEW.thing_id;
    ELSIF NEW.thing_id <> OLD.thing_id OR NEW.claimant_id <> OLD.claimant_id THEN
      RAISE EXCEPTION 'a claim stays on its thing and with its claimant' USING ERRCODE = 'CW002';
    ELSIF NEW.quantity <> OLD.quantity THEN
      UPDATE things SET claimed = claimed + NEW.quantity - OLD.quantity WHERE id = NEW.thing_id;
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER claims_counted AFTER INSERT OR UPDATE ON claims FOR EACH ROW EXECUTE FUNCTION keep_claimed();
  -- the owner alone could remove a claim past the counter, so nobody may
  CREATE TRIGGER claims_kept BEFORE DELETE OR TRUNCATE ON claims FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  -- a place is never inside itself
  CREATE FUNCTION keep_places_a_tree() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF NEW.parent_id IS NOT NULL AND EXISTS (
      WITH RECURSIVE up AS (
        SELECT holder_id, parent_id FROM places WHERE holder_id = NEW.parent_id
        UNION SELECT places.holder_id, places.parent_id FROM places JOIN up ON places.holder_id = up.parent_id)
      SELECT 1 FROM up WHERE holder_id = NEW.holder_id) THEN
      RAISE EXCEPTION 'a place cannot lie inside itself' USING ERRCODE = 'CW003';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER places_tree BEFORE INSERT OR UPDATE OF parent_id ON places FOR EACH ROW EXECUTE FUNCTION keep_places_a_tree();
`;
