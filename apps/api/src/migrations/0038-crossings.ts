import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * What there was at an instant is what there is now less what came to us since and with what left us. Whether a movement did either stands beside it: two look-ups of holders when it is
 * written instead of two for each of some millions when somebody asks. An index has those alone, in the order of time, with all that is added up.
 */
export class Crossings1764061200038 implements MigrationInterface {
  name = 'Crossings1764061200038';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [column, earlier, index]) await runner.query(statements);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TRIGGER movements_crossing ON movements;
      DROP FUNCTION mark_crossing;
      ALTER TABLE movements DROP COLUMN crossing;
      ALTER TABLE holders DROP COLUMN is_stock;`);
  }
}

const column = `
  -- with us, or at an outworker from whom it comes back; a holder never becomes or ceases to be that
  ALTER TABLE holders ADD COLUMN is_stock boolean NOT NULL GENERATED ALWAYS AS (kind IN ('place', 'tray', 'outworker')) STORED;

  -- 1: it became stock; -1: it was stock before; 0: neither
  ALTER TABLE movements ADD COLUMN crossing smallint NOT NULL DEFAULT 0 CHECK (crossing BETWEEN -1 AND 1);

  CREATE FUNCTION mark_crossing() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    NEW.crossing := coalesce((SELECT is_stock::integer FROM holders WHERE id = NEW.to_holder_id), 0)
                  - coalesce((SELECT is_stock::integer FROM holders WHERE id = NEW.from_holder_id), 0);
    RETURN NEW;
  END $$;
  CREATE TRIGGER movements_crossing BEFORE INSERT ON movements FOR EACH ROW EXECUTE FUNCTION mark_crossing();
`;

const earlier = `
  ALTER TABLE movements DISABLE TRIGGER movements_kept;
  UPDATE movements SET crossing = target.is_stock::integer - source.is_stock::integer
    FROM holders AS source, holders AS target
   WHERE source.id = from_holder_id AND target.id = to_holder_id AND source.is_stock <> target.is_stock;
  ALTER TABLE movements ENABLE TRIGGER movements_kept;
`;

const index = `
  CREATE INDEX movements_that_cross ON movements (recorded_at) INCLUDE (thing_id, quantity, crossing) WHERE crossing <> 0;
`;
