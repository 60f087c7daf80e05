import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * What a load cost, what was said to be in it, how its cost was shared, and the value ledger: what each thing cost is the sum of its
 * entries, which are never changed. The database itself refuses shares of a load that do not come to what was shared.
 */
export class LoadCosts1764061200015 implements MigrationInterface {
  name = 'LoadCosts1764061200015';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [loadFacts, valueLedger, keeping]) await runner.query(statements);
    await grantServing(runner, 'append', ['load_sharings', 'cost_entries']);
    await grantServing(runner, 'edit-and-remove', ['load_descriptions']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TABLE cost_entries, load_sharings, load_descriptions;
      DROP FUNCTION refuse_uneven_shares();
      DROP FUNCTION refuse_unpaid_sharing();
      DROP FUNCTION shares_of_load(uuid);
      DROP INDEX lots_taken_from;
      ALTER TABLE load_rows DROP COLUMN worth_minor, DROP COLUMN weight_kg, DROP COLUMN worth_version;
      ALTER TABLE loads DROP COLUMN price_minor, DROP COLUMN haulage_minor, DROP COLUMN fees_minor, DROP COLUMN currency, DROP COLUMN rate;`);
  }
}

// null: not known, which is not nought; a load without a currency of its own was paid for in the workshop's
const loadFacts = `
  ALTER TABLE loads
    ADD COLUMN price_minor bigint CHECK (price_minor > 0),
    ADD COLUMN haulage_minor bigint CHECK (haulage_minor >= 0),
    ADD COLUMN fees_minor bigint CHECK (fees_minor >= 0),
    ADD COLUMN currency char(3) CHECK (currency ~ '^[A-Z]{3}$'),
    ADD COLUMN rate text NOT NULL DEFAULT '',
    ADD CONSTRAINT another_currency_has_its_rate CHECK ((currency IS NULL) = (rate = ''));

  ALTER TABLE load_rows
    ADD COLUMN worth_minor bigint CHECK (worth_minor >= 0),
    ADD COLUMN weight_kg numeric(14,4) CHECK (weight_kg > 0),
    ADD COLUMN worth_version integer NOT NULL DEFAULT 1;

  -- what the seller said was in it
  CREATE TABLE load_descriptions (
    load_id uuid NOT NULL REFERENCES loads,
    position smallint NOT NULL CHECK (position > 0),
    words text NOT NULL CHECK (words <> ''),
    quantity integer NOT NULL CHECK (quantity > 0),
    unit_type_id uuid REFERENCES unit_types,
    part_id uuid REFERENCES parts,
    PRIMARY KEY (load_id, position),
    CHECK (unit_type_id IS NULL OR part_id IS NULL)
  );

  -- a lot that was taken out of a unit carries part of the cost of the lot that it was
  CREATE INDEX lots_taken_from ON lots (taken_from_lot_id) WHERE taken_from_lot_id IS NOT NULL;
`;

const valueLedger = `
  -- each time that the cost of a load was shared: what it came to then, in the workshop's currency
  CREATE TABLE load_sharings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    load_id uuid NOT NULL REFERENCES loads,
    way text NOT NULL CHECK (way IN ('relative value', 'weight', 'equally', 'by hand')),
    cost_minor bigint NOT NULL CHECK (cost_minor > 0),
    currency char(3) NOT NULL,
    not_known text[] NOT NULL,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    UNIQUE (id, load_id)
  );
  CREATE INDEX load_sharings_load ON load_sharings (load_id, sequence DESC);

  -- what a thing cost is the sum of its entries; a thing without any has a cost that nobody knows
  CREATE TABLE cost_entries (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES things,
    amount_minor bigint NOT NULL,
    currency char(3) NOT NULL,
    kind text NOT NULL CHECK (kind IN ('load share', 'adjustment', 'passed on')),
    load_id uuid REFERENCES loads,
    sharing_id uuid,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    FOREIGN KEY (sharing_id, load_id) REFERENCES load_sharings (id, load_id),
    CHECK ((kind = 'load share') = (sharing_id IS NOT NULL)),
    CHECK (sharing_id IS NULL OR load_id IS NOT NULL)
  );
  CREATE INDEX cost_entries_thing ON cost_entries (thing_id, sequence);
  CREATE INDEX cost_entries_load ON cost_entries (load_id) WHERE kind = 'load share';
  CREATE INDEX cost_entries_sharing ON cost_entries (sharing_id) WHERE sharing_id IS NOT NULL;
`;

const keeping = `
  CREATE TRIGGER load_sharings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON load_sharings
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER cost_entries_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON cost_entries
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION shares_of_load(load uuid) RETURNS numeric LANGUAGE sql STABLE AS $$
    SELECT coalesce(sum(amount_minor), 0) FROM cost_entries WHERE load_id = load AND kind = 'load share'
  $$;

  -- the shares of a load are written in one statement, after the row that says what was shared
  CREATE FUNCTION refuse_uneven_shares() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (
      SELECT FROM (SELECT DISTINCT load_id FROM added WHERE kind = 'load share') AS shared
       WHERE shares_of_load(load_id) IS DISTINCT FROM
             (SELECT cost_minor FROM load_sharings WHERE load_sharings.load_id = shared.load_id ORDER BY sequence DESC LIMIT 1)) THEN
      RAISE EXCEPTION 'the shares of a load come to what was shared' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER cost_entries_even AFTER INSERT ON cost_entries REFERENCING NEW TABLE AS added
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_uneven_shares();

  -- nobody says that a cost was shared and leaves the shares out
  CREATE FUNCTION refuse_unpaid_sharing() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF shares_of_load(NEW.load_id) <> (SELECT cost_minor FROM load_sharings WHERE load_id = NEW.load_id ORDER BY sequence DESC LIMIT 1) THEN
      RAISE EXCEPTION 'what was shared is borne by the things of the load' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE CONSTRAINT TRIGGER load_sharings_borne AFTER INSERT ON load_sharings DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW EXECUTE FUNCTION refuse_unpaid_sharing();
`;
