import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing } from './serving-grants.js';

/**
 * Consumables by container: which parts are consumables and how they are charged, what a packet says of its use-by date, what became of each
 * container that was opened, what was used on which job; and the minimums of parts. The database itself keeps which containers are open and
 * refuses a second open one where the workshop has one open at a time.
 */
export class Consumables1764061200032 implements MigrationInterface {
  name = 'Consumables1764061200032';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [settings, containers, openKept, uses, minimums]) await runner.query(statements);
    await grantServing(runner, 'edit', ['consumables']);
    await grantServing(runner, 'append', ['consumable_flat_charges', 'use_by_readings', 'container_events', 'consumable_uses']);
    await grantServing(runner, 'edit-and-remove', ['part_minimums']);
    await grantSequences(runner, [
      'consumable_flat_charges_sequence_seq',
      'use_by_readings_sequence_seq',
      'container_events_sequence_seq',
      'consumable_uses_sequence_seq',
    ]);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`GRANT SELECT ON open_containers TO ${row?.role}`);
  }

  async down(): Promise<void> {
    throw new Error('What was used on jobs is not taken down: restore a backup instead.');
  }
}

const settings = `
  -- keeps_days: so long once opened; null is as long as the packet says
  CREATE TABLE consumables (
    part_id uuid PRIMARY KEY REFERENCES parts,
    container text NOT NULL CHECK (container <> ''),
    keeps_days integer CHECK (keeps_days BETWEEN 1 AND 9999),
    one_at_a_time boolean NOT NULL,
    charged text NOT NULL CHECK (charged IN ('by use', 'flat', 'not at all')),
    use_minor bigint CHECK (use_minor >= 0),
    uses_per_container integer CHECK (uses_per_container BETWEEN 1 AND 100000),
    currency char(3) NOT NULL,
    withdrawn boolean NOT NULL DEFAULT false,
    withdrawn_why text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1,
    CONSTRAINT charged_in_one_way CHECK (num_nonnulls(use_minor, uses_per_container) = CASE charged WHEN 'by use' THEN 1 ELSE 0 END)
  );

  -- so much a job, for one unit type or for all; null: no longer. The newest of a type stands for jobs opened from that day on
  CREATE TABLE consumable_flat_charges (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    part_id uuid NOT NULL REFERENCES consumables,
    unit_type_id uuid REFERENCES unit_types,
    amount_minor bigint CHECK (amount_minor >= 0),
    currency char(3) NOT NULL,
    for_jobs_from date NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX consumable_flat_charges_part ON consumable_flat_charges (part_id, sequence DESC);
  CREATE TRIGGER consumable_flat_charges_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON consumable_flat_charges
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const containers = `
  -- what is used up goes there; it is known to the code by this id
  INSERT INTO holders (id, kind) VALUES ('00000000-0000-7000-8000-000000005edd', 'scrap');

  -- what the packet says, as somebody read it; the newest stands, and null takes an earlier one back
  CREATE TABLE use_by_readings (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES lots,
    use_by date,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX use_by_readings_thing ON use_by_readings (thing_id, sequence DESC);
  CREATE TRIGGER use_by_readings_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON use_by_readings
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  -- opened_on: null where it was found open and nobody knows since when
  CREATE TABLE container_events (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES lots,
    part_id uuid NOT NULL REFERENCES consumables,
    kind text NOT NULL CHECK (kind IN ('opened', 'not opened after all', 'empty', 'thrown away', 'found again')),
    opened_on date,
    movement_id uuid UNIQUE REFERENCES movements,
    words text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (kind = 'opened' OR opened_on IS NULL),
    CHECK (kind <> 'found again' OR movement_id IS NOT NULL),
    CHECK (kind NOT IN ('opened', 'not opened after all') OR movement_id IS NULL)
  );
  CREATE INDEX container_events_thing ON container_events (thing_id, sequence DESC);
  CREATE TRIGGER container_events_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON container_events
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const openKept = `
  CREATE TABLE open_containers (
    thing_id uuid PRIMARY KEY REFERENCES lots,
    part_id uuid NOT NULL REFERENCES consumables,
    alone boolean NOT NULL
  );
  CREATE INDEX open_containers_part ON open_containers (part_id);
  CREATE UNIQUE INDEX open_containers_one_at_a_time ON open_containers (part_id) WHERE alone;

  CREATE FUNCTION keep_open_containers() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    IF NEW.kind IN ('opened', 'found again') THEN
      IF NOT EXISTS (SELECT FROM lots JOIN things ON things.id = thing_id WHERE thing_id = NEW.thing_id AND part_id = NEW.part_id AND held = 1) THEN
        RAISE EXCEPTION 'one container of the part is open, and it is here' USING ERRCODE = 'check_violation', CONSTRAINT = 'an_open_container_is_one';
      END IF;
      INSERT INTO open_containers SELECT NEW.thing_id, NEW.part_id, one_at_a_time FROM consumables WHERE part_id = NEW.part_id;
    ELSE
      DELETE FROM open_containers WHERE thing_id = NEW.thing_id;
      IF NOT FOUND THEN
        RAISE EXCEPTION 'only an open container is emptied' USING ERRCODE = 'check_violation', CONSTRAINT = 'only_what_is_open_ends';
      END IF;
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER container_events_open AFTER INSERT ON container_events FOR EACH ROW EXECUTE FUNCTION keep_open_containers();

  CREATE FUNCTION keep_one_at_a_time() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    UPDATE open_containers SET alone = NEW.one_at_a_time WHERE part_id = NEW.part_id;
    RETURN NULL;
  END $$;
  CREATE TRIGGER consumables_one_at_a_time AFTER UPDATE OF one_at_a_time ON consumables
    FOR EACH ROW WHEN (NEW.one_at_a_time <> OLD.one_at_a_time) EXECUTE FUNCTION keep_one_at_a_time();
`;

const uses = `
  -- use: of an open container, at so much each or at a share of what it cost; flat: a charge by rule that a job does not bear after all;
  -- put right: the row that it names counts no more
  CREATE TABLE consumable_uses (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    job_id uuid NOT NULL REFERENCES jobs,
    part_id uuid NOT NULL REFERENCES consumables,
    kind text NOT NULL CHECK (kind IN ('use', 'flat charge dropped', 'put right')),
    thing_id uuid REFERENCES lots,
    uses integer CHECK (uses BETWEEN 1 AND 9999),
    use_minor bigint CHECK (use_minor >= 0),
    uses_per_container integer CHECK (uses_per_container >= 1),
    currency char(3),
    flat_charge_id uuid REFERENCES consumable_flat_charges,
    puts_right_id uuid UNIQUE REFERENCES consumable_uses,
    override_reason text CHECK (override_reason <> ''),
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    occurred_at timestamptz NOT NULL,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK ((kind = 'use') = (thing_id IS NOT NULL AND uses IS NOT NULL AND currency IS NOT NULL)),
    CHECK (num_nonnulls(use_minor, uses_per_container) = CASE kind WHEN 'use' THEN 1 ELSE 0 END),
    CHECK ((kind = 'flat charge dropped') = (flat_charge_id IS NOT NULL)),
    CHECK ((kind = 'put right') = (puts_right_id IS NOT NULL)),
    CHECK (kind = 'use' OR why <> '')
  );
  CREATE INDEX consumable_uses_job ON consumable_uses (job_id, sequence);
  CREATE INDEX consumable_uses_thing ON consumable_uses (thing_id, sequence) WHERE thing_id IS NOT NULL;
  CREATE TRIGGER consumable_uses_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON consumable_uses
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

  CREATE FUNCTION refuse_use_of_a_closed_container() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF NEW.kind = 'use' AND NOT EXISTS (SELECT FROM open_containers WHERE thing_id = NEW.thing_id AND part_id = NEW.part_id) THEN
      RAISE EXCEPTION 'what is used comes out of an open container' USING ERRCODE = 'check_violation', CONSTRAINT = 'used_of_an_open_container';
    END IF;
    IF NEW.kind = 'put right' AND NOT EXISTS (
      SELECT FROM consumable_uses AS first WHERE first.id = NEW.puts_right_id AND first.job_id = NEW.job_id AND first.part_id = NEW.part_id AND first.kind <> 'put right') THEN
      RAISE EXCEPTION 'a row is put right on its own job' USING ERRCODE = 'check_violation', CONSTRAINT = 'put_right_on_its_job';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER consumable_uses_of_open BEFORE INSERT ON consumable_uses FOR EACH ROW EXECUTE FUNCTION refuse_use_of_a_closed_container();
`;

const minimums = `
  -- of full containers where the part is a consumable, else of what is free
  CREATE TABLE part_minimums (
    part_id uuid PRIMARY KEY REFERENCES parts,
    minimum numeric(14,4) NOT NULL CHECK (minimum > 0),
    up_to numeric(14,4) NOT NULL,
    supplier_id uuid REFERENCES parties,
    note text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1,
    CONSTRAINT bought_up_to_the_minimum_at_least CHECK (up_to >= minimum)
  );
`;
