import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing, grantServingColumns } from './serving-grants.js';

/**
 * Reservations: claims on what is at an outworker and comes back, and on what is on order; who made a claim and until when it holds; and a
 * log of what became of each. The database itself keeps the counters and refuses claims above what is held or expected.
 */
export class Reservations1764061200024 implements MigrationInterface {
  name = 'Reservations1764061200024';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [awaited, expected, changes]) await runner.query(statements);
    await grantServing(runner, 'edit', ['expected_claims']);
    await grantServing(runner, 'append', ['claim_changes']);
    await grantSequences(runner, ['claim_changes_sequence_seq']);
    // The counter of an order belongs to its trigger, as those of a thing do.
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`REVOKE UPDATE ON expected_receipts FROM ${row?.role}`);
    await grantServingColumns(runner, 'expected_receipts', [
      'quantity',
      'quantity_received',
      'due_on',
      'confirmed',
      'for_job_id',
      'called_off',
      'note',
      'version',
    ]);
  }

  async down(): Promise<void> {
    throw new Error('What was reserved is not taken down: restore a backup instead.');
  }
}

const awaited = `
  -- so many are at outworkers, and come back
  ALTER TABLE things ADD COLUMN awaited numeric(14,4) NOT NULL DEFAULT 0 CHECK (awaited >= 0);
  UPDATE things SET awaited = at_outworkers.quantity
    FROM (SELECT thing_id, sum(quantity) AS quantity FROM balances JOIN holders ON holders.id = holder_id AND kind = 'outworker'
           GROUP BY thing_id) AS at_outworkers
   WHERE at_outworkers.thing_id = things.id AND at_outworkers.quantity <> 0;
  ALTER TABLE things DROP CONSTRAINT claims_within_held,
    ADD CONSTRAINT claims_within_held CHECK (claimed <= held + awaited);

  -- both counters in one statement: what goes out is never missing from both
  CREATE OR REPLACE FUNCTION keep_balance() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  DECLARE
    source holders%ROWTYPE;
    target holders%ROWTYPE;
    is_single boolean;
    more_held integer;
    more_awaited integer;
  BEGIN
    SELECT * INTO STRICT source FROM holders WHERE id = NEW.from_holder_id;
    SELECT * INTO STRICT target FROM holders WHERE id = NEW.to_holder_id;
    more_held := target.counts::integer - source.counts::integer;
    more_awaited := (target.kind = 'outworker')::integer - (source.kind = 'outworker')::integer;
    IF more_held <> 0 OR more_awaited <> 0 THEN
      UPDATE things SET held = held + more_held * NEW.quantity, awaited = awaited + more_awaited * NEW.quantity
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
`;

const expected = `
  -- until: the last day on which it holds; null is firm
  ALTER TABLE claims ADD COLUMN until date, ADD COLUMN made_by uuid REFERENCES people;
  CREATE INDEX claims_until ON claims (until) WHERE until IS NOT NULL AND quantity > 0;

  ALTER TABLE expected_receipts ADD COLUMN claimed numeric(14,4) NOT NULL DEFAULT 0 CHECK (claimed >= 0),
    ADD CONSTRAINT claims_within_expected CHECK (called_off OR claimed <= quantity - quantity_received);

  CREATE TABLE expected_claims (
    id uuid PRIMARY KEY,
    receipt_id uuid NOT NULL REFERENCES expected_receipts,
    claimant_id uuid NOT NULL REFERENCES jobs,
    purpose_id uuid NOT NULL REFERENCES job_lines,
    quantity numeric(14,4) NOT NULL CHECK (quantity >= 0),
    until date,
    made_by uuid REFERENCES people,
    made_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    UNIQUE (receipt_id, claimant_id, purpose_id)
  );
  CREATE INDEX expected_claims_claimant ON expected_claims (claimant_id) WHERE quantity > 0;
  CREATE INDEX expected_claims_purpose ON expected_claims (purpose_id);
  CREATE INDEX expected_claims_until ON expected_claims (until) WHERE until IS NOT NULL AND quantity > 0;

  CREATE FUNCTION keep_expected_claimed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    IF TG_OP = 'INSERT' THEN
      UPDATE expected_receipts SET claimed = claimed + NEW.quantity WHERE id = NEW.receipt_id;
    ELSIF NEW.receipt_id <> OLD.receipt_id OR NEW.claimant_id <> OLD.claimant_id THEN
      RAISE EXCEPTION 'a claim stays on its order and with its claimant' USING ERRCODE = 'CW002';
    ELSIF NEW.quantity <> OLD.quantity THEN
      UPDATE expected_receipts SET claimed = claimed + NEW.quantity - OLD.quantity WHERE id = NEW.receipt_id;
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER expected_claims_counted AFTER INSERT OR UPDATE ON expected_claims FOR EACH ROW EXECUTE FUNCTION keep_expected_claimed();
  CREATE TRIGGER expected_claims_kept BEFORE DELETE OR TRUNCATE ON expected_claims FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;

const changes = `
  -- what became of each reservation; the clock gives no command and is nobody
  CREATE TABLE claim_changes (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid REFERENCES commands,
    thing_id uuid REFERENCES things,
    receipt_id uuid REFERENCES expected_receipts,
    job_id uuid NOT NULL REFERENCES jobs,
    job_line_id uuid REFERENCES job_lines,
    quantity numeric(14,4) NOT NULL,
    kind text NOT NULL CHECK (kind IN ('reserved', 'released', 'taken by another job', 'taken from another job', 'moved to an equal lot',
      'came in', 'picked', 'fitted', 'put back', 'made firm', 'expired', 'order called off', 'fewer expected', 'job closed')),
    until date,
    reason text NOT NULL DEFAULT '',
    other_thing_id uuid REFERENCES things,
    other_job_id uuid REFERENCES jobs,
    person_id uuid REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (num_nonnulls(thing_id, receipt_id) = 1),
    CHECK (kind NOT IN ('taken by another job', 'taken from another job') OR (other_job_id IS NOT NULL AND reason <> ''))
  );
  CREATE INDEX claim_changes_job ON claim_changes (job_id, sequence DESC);
  CREATE INDEX claim_changes_command ON claim_changes (command_key);
  CREATE TRIGGER claim_changes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON claim_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
