import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Where a part lies is asked far more often than anything else, and of a part that was fitted to hundreds of units most balances are with those. Whether a holder is
 * one of ours stands beside the balance now, held to the holder by the key, so that an index has those alone. Neither changes, so the index costs a change of quantity nothing.
 */
export class BalancesWithUs1764061200035 implements MigrationInterface {
  name = 'BalancesWithUs1764061200035';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`
      ALTER TABLE balances DROP CONSTRAINT balances_holder_id_boundary_fkey, ADD COLUMN with_us boolean;
      ALTER TABLE holders DROP CONSTRAINT holders_id_boundary_key, ADD UNIQUE (id, boundary, counts);
      UPDATE balances SET with_us = counts FROM holders WHERE holders.id = holder_id;
      ALTER TABLE balances ALTER COLUMN with_us SET NOT NULL,
        ADD FOREIGN KEY (holder_id, boundary, with_us) REFERENCES holders (id, boundary, counts);
      CREATE INDEX balances_with_us ON balances (thing_id) WHERE with_us;
      ${keepBalance(', source.counts', ', target.counts')}`);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      ${keepBalance('', '')}
      ALTER TABLE balances DROP COLUMN with_us;
      ALTER TABLE holders DROP CONSTRAINT holders_id_boundary_counts_key, ADD UNIQUE (id, boundary);
      ALTER TABLE balances ADD FOREIGN KEY (holder_id, boundary) REFERENCES holders (id, boundary);`);
  }
}

/** As it was, and with what else is written of each side. */
const keepBalance = (ofSource: string, ofTarget: string): string => `
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
      INSERT INTO balances VALUES (NEW.thing_id, source.id, is_single, source.boundary, -NEW.quantity${ofSource});
    END IF;
    INSERT INTO balances VALUES (NEW.thing_id, target.id, is_single, target.boundary, NEW.quantity${ofTarget})
      ON CONFLICT (thing_id, holder_id) DO UPDATE SET quantity = balances.quantity + EXCLUDED.quantity;
    RETURN NULL;
  END $$;`;
