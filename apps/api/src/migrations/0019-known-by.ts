import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** What a unit type is known by: signs, serial numbers, teeth; and who said of a unit what it is, by what. */
export class KnownBy1764061200019 implements MigrationInterface {
  name = 'KnownBy1764061200019';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(knownBy);
    await runner.query(serialsFromWords);
    await runner.query(teethFromWords);
    await grantServing(runner, 'edit-and-remove', ['unit_type_signs', 'unit_type_serials', 'unit_type_teeth']);
    await grantServing(runner, 'append', ['identifications']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(
      'DROP INDEX units_unidentified; DROP TABLE identifications, unit_type_teeth, unit_type_serials, unit_type_signs',
    );
  }
}

const knownBy = `
  -- a casting number is never a part number: it stands here, and never among the numbers of parts
  CREATE TABLE unit_type_signs (
    id uuid PRIMARY KEY,
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    number smallint NOT NULL CHECK (number > 0),
    kind text NOT NULL CHECK (kind IN ('stamp', 'casting', 'feature', 'count')),
    position text NOT NULL DEFAULT '',
    pattern text NOT NULL DEFAULT '',
    year_first smallint,
    year_last smallint,
    words text NOT NULL DEFAULT '',
    weight text NOT NULL CHECK (weight IN ('hint', 'good', 'decisive')),
    UNIQUE (unit_type_id, number),
    CHECK (kind <> 'feature' OR words <> ''),
    CHECK (kind = 'feature' OR pattern <> ''),
    CHECK (kind <> 'count' OR (position <> '' AND pattern ~ '^[0-9]{1,4}$'))
  );

  CREATE TABLE unit_type_serials (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    number smallint NOT NULL CHECK (number > 0),
    prefix text NOT NULL DEFAULT '',
    first integer NOT NULL CHECK (first >= 0),
    last integer NOT NULL CHECK (last >= first AND last < 1000000000),
    PRIMARY KEY (unit_type_id, number)
  );

  -- gear: empty where a type has one ratio; several meshes of a gear drive one another in the order of their numbers
  CREATE TABLE unit_type_teeth (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    gear text NOT NULL DEFAULT '',
    mesh smallint NOT NULL CHECK (mesh > 0),
    driver smallint NOT NULL CHECK (driver BETWEEN 1 AND 1000),
    driven smallint NOT NULL CHECK (driven BETWEEN 1 AND 1000),
    PRIMARY KEY (unit_type_id, gear, mesh)
  );

  -- a type of null: it was said again that nobody knows
  CREATE TABLE identifications (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    thing_id uuid NOT NULL REFERENCES units,
    unit_type_id uuid REFERENCES unit_types,
    reading jsonb NOT NULL,
    speaks_for text[] NOT NULL,
    speaks_against text[] NOT NULL,
    ruled_out boolean NOT NULL,
    why text NOT NULL DEFAULT '',
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (why <> '' OR (unit_type_id IS NOT NULL AND NOT ruled_out))
  );
  CREATE INDEX identifications_thing ON identifications (thing_id, recorded_at DESC);
  CREATE TRIGGER identifications_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON identifications FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE INDEX units_unidentified ON units (thing_id) WHERE unit_type_id IS NULL;
`;

/** "WD7 1 to WD7 6990": one prefix, two numbers. Anything else is left to whoever keeps the books. */
const serialsFromWords = `
  INSERT INTO unit_type_serials (unit_type_id, number, prefix, first, last)
  SELECT id, 1, coalesce(found[1], ''), found[2]::integer, found[3]::integer
    FROM unit_types, regexp_match(serial_range, '^(?:(\\S.*?)\\s+)?(\\d{1,9}) to (?:\\1\\s+)?(\\d{1,9})$') AS found
   WHERE found IS NOT NULL AND found[2]::integer <= found[3]::integer`;

/** "(worm 4, wheel 31)" and "(39/7)": wheel over pinion, as axles are named. */
const teethFromWords = `
  INSERT INTO unit_type_teeth (unit_type_id, mesh, driver, driven)
  SELECT id, 1, coalesce(worm[1], pair[2])::smallint, coalesce(worm[2], pair[1])::smallint
    FROM unit_types, regexp_match(ratio, '\\(worm (\\d{1,2}), wheel (\\d{1,3})\\)') AS worm, regexp_match(ratio, '\\((\\d{1,3})/(\\d{1,3})\\)') AS pair
   WHERE coalesce(worm[1], pair[2])::integer BETWEEN 1 AND 1000 AND coalesce(worm[2], pair[1])::integer BETWEEN 1 AND 1000`;
