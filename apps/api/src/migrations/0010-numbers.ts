import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * How a number is found that is not keyed as it is printed: with leading zeros lost or added, or without the letters that a maker
 * puts before it. And words that are misspelt, found by the index rather than by reading every part.
 */
export class Numbers1764061200010 implements MigrationInterface {
  name = 'Numbers1764061200010';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(numbers);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP FUNCTION parts_worded_like(text, integer);
      DROP FUNCTION numbers_like(text, uuid, integer);
      ALTER TABLE part_numbers DROP COLUMN number_bare, DROP COLUMN number_loose;
      DROP FUNCTION bare_number_key(text);
      DROP FUNCTION loose_number_key(text);`);
  }
}

const numbers = `
  -- Upper case, without separators, and every group of digits without the zeros that it begins with: 007-01234 is 71234. Groups
  -- are told by separators and letters, so it is made of the number as printed. Of letters only a to z change case, for the
  -- database may know no others: the key itself does better, and this one only widens it.
  CREATE FUNCTION loose_number_key(number text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT nullif(regexp_replace(
      regexp_replace(upper(normalize(number, NFKC) COLLATE "C"), '(^|[^0-9])0+', '\\1', 'g'),
      '[^A-Z0-9\\u00C0-\\u1FFF\\u2C00-\\u2FFF\\u3040-\\uD7FF]', '', 'g'), '')
  $$;

  -- The loose key without the letters before its first digit; null where there are none.
  CREATE FUNCTION bare_number_key(number text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT substring(loose_number_key(number) COLLATE "C" FROM '^[^0-9]+(.+)$')
  $$;

  ALTER TABLE part_numbers
    ADD COLUMN number_loose text COLLATE "C" GENERATED ALWAYS AS (loose_number_key(number)) STORED,
    ADD COLUMN number_bare text COLLATE "C" GENERATED ALWAYS AS (bare_number_key(number)) STORED;
  -- where the two keys are one the index of the other serves
  CREATE INDEX part_numbers_loose ON part_numbers (number_loose) WHERE number_loose <> number_key;
  CREATE INDEX part_numbers_bare ON part_numbers (number_bare) WHERE number_bare IS NOT NULL;

  -- The bars stand in the functions because an index takes them from the session's setting alone. Found in the order of the
  -- index and cut there: what is as common as that is not found by its likeness.
  CREATE FUNCTION numbers_like(keyed text, of_maker uuid, candidates_max integer)
    RETURNS TABLE (part_id uuid, maker_id uuid, number text, distance real)
    LANGUAGE sql STABLE PARALLEL SAFE SET pg_trgm.similarity_threshold = 0.4 AS $$
    SELECT part_id, maker_id, number, 1 - similarity(number_key, keyed) FROM part_numbers
     WHERE number_key % keyed AND (of_maker IS NULL OR maker_id = of_maker) LIMIT candidates_max
  $$;

  -- Lower than the database's own, so that two letters in the wrong order still find a short word.
  CREATE FUNCTION parts_worded_like(keyed text, candidates_max integer) RETURNS TABLE (part_id uuid, distance real)
    LANGUAGE sql STABLE PARALLEL SAFE SET pg_trgm.word_similarity_threshold = 0.45 AS $$
    SELECT id, 1 - word_similarity(keyed, name || ' ' || description || ' ' || nicknames) FROM parts
     WHERE keyed <% (name || ' ' || description || ' ' || nicknames) LIMIT candidates_max
  $$;
`;
