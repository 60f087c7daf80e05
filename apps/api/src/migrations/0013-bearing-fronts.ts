import type { MigrationInterface, QueryRunner } from 'typeorm';

/** How a number is found that may name a bearing: by the letters and the figures that it begins with, whatever suffixes follow. */
export class BearingFronts1764061200013 implements MigrationInterface {
  name = 'BearingFronts1764061200013';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(fronts);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('ALTER TABLE part_numbers DROP COLUMN number_front; DROP FUNCTION number_front(text)');
  }
}

const fronts = `
  -- NU 310 E is NU310, 6205-2RS is 6205, 618/6 is 618: the letters before the first figures, and these
  CREATE FUNCTION number_front(number text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT array_to_string(regexp_match(upper(number COLLATE "C"), '^[^A-Z0-9]*([A-Z]*)[^A-Z0-9]*([0-9]+)'), '')
  $$;

  ALTER TABLE part_numbers ADD COLUMN number_front text COLLATE "C" GENERATED ALWAYS AS (number_front(number)) STORED;
  -- the shortest first: it has the fewest suffixes
  CREATE INDEX part_numbers_front ON part_numbers (number_front, length(number_key), number_key);
`;
