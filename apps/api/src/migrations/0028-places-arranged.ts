import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Places that are renamed, carried about and closed: a version, since when a place is closed, and what the database refuses: goods in a
 * closed place, a place in itself however many carry at once, a site in anything but a site.
 */
export class PlacesArranged1764061200028 implements MigrationInterface {
  name = 'PlacesArranged1764061200028';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [closing, arranging]) await runner.query(statements);
  }

  async down(runner: QueryRunner): Promise<void> {
    const [row] = (await runner.query('SELECT EXISTS (SELECT FROM places WHERE closed_at IS NOT NULL) AS closed')) as {
      closed: boolean;
    }[];
    if (row?.closed === true) throw new Error('A place is closed: open it again first, or restore a backup instead.');
    await runner.query(`
      DROP TRIGGER movements_into_open ON movements;
      DROP TRIGGER places_arranged ON places;
      DROP TRIGGER places_alone_carried ON places;
      DROP FUNCTION refuse_into_closed(), keep_places_arranged(), carry_places_alone();
      DROP INDEX parts_called;
      ALTER TABLE places DROP COLUMN version, DROP COLUMN closed_at, DROP COLUMN closed_by;
    `);
  }
}

const closing = `
  ALTER TABLE places ADD COLUMN version integer NOT NULL DEFAULT 1,
    ADD COLUMN closed_at timestamptz,
    ADD COLUMN closed_by uuid REFERENCES people,
    ADD CHECK (closed_by IS NULL OR closed_at IS NOT NULL);
  CREATE INDEX places_closed ON places (holder_id) WHERE closed_at IS NOT NULL;

  -- It runs after the foreign keys have locked the holder, which whoever closes a place locks too: the two never pass each other.
  CREATE FUNCTION refuse_into_closed() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (SELECT FROM places WHERE holder_id = NEW.to_holder_id AND closed_at IS NOT NULL) THEN
      RAISE EXCEPTION 'a closed place takes no goods' USING ERRCODE = 'CW028';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER movements_into_open AFTER INSERT ON movements FOR EACH ROW EXECUTE FUNCTION refuse_into_closed();

  -- where things are put away, like ones are looked for by what they are called
  CREATE INDEX parts_called ON parts (lower(name));
`;

const arranging = `
  -- One place is carried at a time: of two that are carried into each other each would find the other where it was.
  CREATE FUNCTION carry_places_alone() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    PERFORM pg_advisory_xact_lock(hashtext('corewright place carried'));
    RETURN NEW;
  END $$;
  CREATE TRIGGER places_alone_carried BEFORE UPDATE OF parent_id ON places FOR EACH ROW
    WHEN (OLD.parent_id IS DISTINCT FROM NEW.parent_id) EXECUTE FUNCTION carry_places_alone();

  CREATE FUNCTION keep_places_arranged() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    around places%ROWTYPE;
  BEGIN
    IF NEW.parent_id IS NOT NULL THEN
      SELECT * INTO around FROM places WHERE holder_id = NEW.parent_id FOR SHARE;
      IF around.closed_at IS NOT NULL AND NEW.closed_at IS NULL THEN
        RAISE EXCEPTION 'nothing stands in a closed place' USING ERRCODE = 'CW028';
      END IF;
      IF around.kind = 'tray' OR (NEW.kind = 'site' AND around.kind <> 'site') THEN
        RAISE EXCEPTION 'a % cannot stand in a %', NEW.kind, around.kind USING ERRCODE = 'CW029';
      END IF;
    END IF;
    IF TG_OP = 'UPDATE' THEN
      IF NEW.kind <> OLD.kind AND NEW.kind <> 'site' AND EXISTS (SELECT FROM places WHERE parent_id = NEW.holder_id AND (kind = 'site' OR NEW.kind = 'tray')) THEN
        RAISE EXCEPTION 'what stands in it cannot stand in a %', NEW.kind USING ERRCODE = 'CW029';
      END IF;
      IF NEW.closed_at IS NOT NULL AND OLD.closed_at IS NULL THEN
        PERFORM FROM holders WHERE id = NEW.holder_id FOR UPDATE;
        IF EXISTS (SELECT FROM balances WHERE holder_id = NEW.holder_id AND quantity <> 0)
          OR EXISTS (SELECT FROM places WHERE parent_id = NEW.holder_id AND closed_at IS NULL) THEN
          RAISE EXCEPTION 'only an empty place is closed' USING ERRCODE = 'CW028';
        END IF;
      END IF;
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER places_arranged BEFORE INSERT OR UPDATE OF parent_id, kind, closed_at ON places FOR EACH ROW EXECUTE FUNCTION keep_places_arranged();
`;
