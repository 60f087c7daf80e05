import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * What an answer would otherwise work out each time: every ending of a number's key, in order, so that a piece of it is looked for as far as
 * the page and no further; and the way to a place.
 */
export class QuickAnswers1764061200014 implements MigrationInterface {
  name = 'QuickAnswers1764061200014';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [pieces, placePaths]) await runner.query(statements);
    await grantServing(runner, 'edit-and-remove', ['number_pieces']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TRIGGER places_path ON places;
      DROP TRIGGER places_below ON places;
      DROP FUNCTION keep_place_path();
      DROP FUNCTION keep_paths_below();
      ALTER TABLE places DROP COLUMN path;
      DROP TRIGGER part_numbers_pieces_in ON part_numbers;
      DROP TRIGGER part_numbers_pieces_changed ON part_numbers;
      DROP TRIGGER part_numbers_pieces_out ON part_numbers;
      DROP FUNCTION keep_number_pieces();
      DROP TABLE number_pieces;
      DROP FUNCTION pieces_of(text);
      DROP INDEX part_numbers_key;
      CREATE INDEX part_numbers_key ON part_numbers (number_key);`);
  }
}

const pieces = `
  -- what begins alike stands in the order in which a search shows it
  DROP INDEX part_numbers_key;
  CREATE INDEX part_numbers_key ON part_numbers (number_key, part_id);

  -- the endings of a key behind its first character; nobody looks for less than three characters of one
  CREATE FUNCTION pieces_of(number_key text) RETURNS SETOF text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT DISTINCT substr(number_key, at) COLLATE "C" FROM generate_series(2, length(number_key) - 2) AS at
  $$;

  CREATE TABLE number_pieces (
    piece text COLLATE "C" NOT NULL,
    part_id uuid NOT NULL,
    number_id uuid NOT NULL,
    PRIMARY KEY (piece, part_id, number_id)
  );

  -- Kept by the database, whoever writes a number. In the order of the index, which is filled so in a fraction of the time.
  CREATE FUNCTION keep_number_pieces() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF TG_OP <> 'INSERT' THEN
      DELETE FROM number_pieces USING dropped, pieces_of(number_key) AS gone
       WHERE number_pieces.piece = gone AND number_pieces.part_id = dropped.part_id AND number_id = dropped.id;
    END IF;
    IF TG_OP <> 'DELETE' THEN
      INSERT INTO number_pieces SELECT piece, part_id, id FROM added, pieces_of(number_key) AS piece ORDER BY piece, part_id, id;
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER part_numbers_pieces_in AFTER INSERT ON part_numbers REFERENCING NEW TABLE AS added
    FOR EACH STATEMENT EXECUTE FUNCTION keep_number_pieces();
  CREATE TRIGGER part_numbers_pieces_changed AFTER UPDATE ON part_numbers REFERENCING OLD TABLE AS dropped NEW TABLE AS added
    FOR EACH STATEMENT EXECUTE FUNCTION keep_number_pieces();
  CREATE TRIGGER part_numbers_pieces_out AFTER DELETE ON part_numbers REFERENCING OLD TABLE AS dropped
    FOR EACH STATEMENT EXECUTE FUNCTION keep_number_pieces();

  INSERT INTO number_pieces SELECT piece, part_id, id FROM part_numbers, pieces_of(number_key) AS piece ORDER BY piece, part_id, id;
`;

const placePaths = `
  -- the whole way to a place, the site first: "Stores, Rack 3, Bin 12"
  ALTER TABLE places ADD COLUMN path text NOT NULL DEFAULT '';

  -- Of what it stands in, which nobody may rename meanwhile.
  CREATE FUNCTION keep_place_path() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    above text;
  BEGIN
    SELECT path INTO above FROM places WHERE holder_id = NEW.parent_id FOR SHARE;
    NEW.path := concat_ws(', ', nullif(above, ''), NEW.name);
    RETURN NEW;
  END $$;
  -- What stands in it, and in that, may have been there before it: rows come in any order.
  CREATE FUNCTION keep_paths_below() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    UPDATE places SET path = NEW.path || ', ' || name WHERE parent_id = NEW.holder_id AND path <> NEW.path || ', ' || name;
    RETURN NULL;
  END $$;
  CREATE TRIGGER places_path BEFORE INSERT OR UPDATE OF name, parent_id ON places FOR EACH ROW EXECUTE FUNCTION keep_place_path();
  CREATE TRIGGER places_below AFTER INSERT OR UPDATE OF name, parent_id, path ON places FOR EACH ROW EXECUTE FUNCTION keep_paths_below();

  UPDATE places SET name = name WHERE parent_id IS NULL;
`;
