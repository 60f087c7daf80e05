import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * Boundary dimensions of bearings and makers' own suffixes. Rows that came with the program are marked shipped and follow its
 * newest table at each start; a row that the workshop wrote or changed is its own, and stays.
 */
export class Bearings1764061200008 implements MigrationInterface {
  name = 'Bearings1764061200008';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(bearings);
    await grantServing(runner, 'edit', ['bearing_dimensions', 'bearing_suffixes']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TABLE bearing_suffixes, bearing_dimensions');
  }
}

const bearings = `
  CREATE TABLE bearing_dimensions (
    designation text COLLATE "C" PRIMARY KEY CHECK (designation <> ''),
    type text NOT NULL CHECK (type <> ''),
    bore_mm numeric(14,4) NOT NULL CHECK (bore_mm > 0),
    outside_mm numeric(14,4) NOT NULL CHECK (outside_mm > bore_mm),
    width_mm numeric(14,4) NOT NULL CHECK (width_mm > 0),
    chamfer_min_mm numeric(14,4) CHECK (chamfer_min_mm > 0),
    dynamic_rating_n numeric(14,4) CHECK (dynamic_rating_n > 0),
    source text NOT NULL CHECK (source <> ''),
    shipped boolean NOT NULL DEFAULT false
  );

  -- maker is empty where several makers mark alike
  CREATE TABLE bearing_suffixes (
    maker text COLLATE "C" NOT NULL DEFAULT '',
    suffix text COLLATE "C" NOT NULL CHECK (suffix ~ '^[A-Z0-9]+$'),
    aspect text NOT NULL CHECK (aspect IN ('seals', 'groove', 'clearance', 'tolerance', 'cage', 'boreForm', 'design', 'other')),
    value text NOT NULL CHECK (value <> ''),
    words text NOT NULL CHECK (words <> ''),
    source text NOT NULL CHECK (source <> ''),
    shipped boolean NOT NULL DEFAULT false,
    PRIMARY KEY (maker, suffix)
  );
`;
