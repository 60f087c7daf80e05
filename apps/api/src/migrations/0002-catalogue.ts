import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** Makers, parts and their numbers, unit types with components, operations and parts list, grades. */
export class Catalogue1764061200002 implements MigrationInterface {
  name = 'Catalogue1764061200002';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(catalogue);
    await grantServing(runner, 'edit', ['makers', 'parts', 'part_numbers', 'grades', 'unit_types']);
    await grantServing(runner, 'edit-and-remove', ['unit_type_components', 'unit_type_operations', 'unit_type_lines']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(
      'DROP TABLE unit_type_lines, unit_type_operations, unit_type_components, unit_types, grades, part_numbers, parts, makers',
    );
  }
}

const catalogue = `
  CREATE TABLE makers (
    id uuid PRIMARY KEY,
    name text COLLATE "C" NOT NULL UNIQUE CHECK (name <> ''),
    note text NOT NULL DEFAULT ''
  );

  CREATE TABLE parts (
    id uuid PRIMARY KEY,
    name text NOT NULL CHECK (name <> ''),
    description text NOT NULL DEFAULT '',
    nicknames text NOT NULL DEFAULT '',
    unit_of_measure text NOT NULL CHECK (unit_of_measure IN ('each', 'mm', 'm', 'g')),
    material text NOT NULL CHECK (material IN ('metal', 'rubber', 'felt', 'leather', 'paper', 'cork', 'other')),
    polymer text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1,
    CHECK (polymer = '' OR material = 'rubber')
  );
  CREATE INDEX parts_words ON parts USING gin ((name || ' ' || description || ' ' || nicknames) gin_trgm_ops);

  -- identity is maker and number as printed; number_key is how it is found: letters and digits only, upper case
  CREATE TABLE part_numbers (
    id uuid PRIMARY KEY,
    part_id uuid NOT NULL REFERENCES parts,
    maker_id uuid NOT NULL REFERENCES makers,
    number text COLLATE "C" NOT NULL CHECK (number <> ''),
    number_key text COLLATE "C" NOT NULL CHECK (number_key <> ''),
    year_first smallint,
    year_last smallint,
    is_main boolean NOT NULL DEFAULT false,
    UNIQUE (maker_id, number),
    CHECK (year_first IS NULL OR year_last IS NULL OR year_first <= year_last)
  );
  CREATE INDEX part_numbers_part ON part_numbers (part_id);
  CREATE INDEX part_numbers_key ON part_numbers (number_key);
  CREATE INDEX part_numbers_fragment ON part_numbers USING gin (number_key gin_trgm_ops);
  CREATE UNIQUE INDEX part_numbers_one_main ON part_numbers (part_id) WHERE is_main;

  CREATE TABLE grades (
    scale text NOT NULL CHECK (scale IN ('core', 'part')),
    letter text NOT NULL,
    rank smallint NOT NULL,
    meaning text NOT NULL,
    PRIMARY KEY (scale, letter),
    UNIQUE (scale, rank)
  );

  CREATE TABLE unit_types (
    id uuid PRIMARY KEY,
    reference text COLLATE "C" NOT NULL UNIQUE,
    maker_id uuid NOT NULL REFERENCES makers,
    kind text NOT NULL,
    model text NOT NULL,
    variant text NOT NULL DEFAULT '',
    ratio text NOT NULL DEFAULT '',
    year_first smallint,
    year_last smallint,
    serial_range text NOT NULL DEFAULT '',
    recognise_by text NOT NULL DEFAULT '',
    weight_kg numeric(14,4),
    version integer NOT NULL DEFAULT 1
  );

  CREATE TABLE unit_type_components (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    position smallint NOT NULL CHECK (position > 0),
    name text NOT NULL,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    must_be_looked_at boolean NOT NULL DEFAULT false,
    PRIMARY KEY (unit_type_id, position)
  );

  CREATE TABLE unit_type_operations (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    number smallint NOT NULL CHECK (number > 0),
    name text NOT NULL,
    minutes integer NOT NULL CHECK (minutes >= 0),
    after_numbers smallint[] NOT NULL DEFAULT '{}',
    PRIMARY KEY (unit_type_id, number)
  );

  CREATE TABLE unit_type_lines (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    line_no smallint NOT NULL CHECK (line_no > 0),
    part_id uuid NOT NULL REFERENCES parts,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    operation_number smallint NOT NULL,
    critical boolean NOT NULL DEFAULT false,
    reusable boolean NOT NULL DEFAULT false,
    sources text[] NOT NULL DEFAULT '{}',
    makes text[] NOT NULL DEFAULT '{}',
    grade_least text NOT NULL DEFAULT '',
    PRIMARY KEY (unit_type_id, line_no),
    FOREIGN KEY (unit_type_id, operation_number) REFERENCES unit_type_operations
  );
`;
