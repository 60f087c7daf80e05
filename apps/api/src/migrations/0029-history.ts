import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * What came to a place and what went from it, in the order in which it was recorded; and the words by which people look for parts, places and
 * units, however they write them.
 */
export class History1764061200029 implements MigrationInterface {
  name = 'History1764061200029';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [indexes, words, columns, wordsOfUnits]) await runner.query(statements);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TRIGGER makers_sought ON makers;
      DROP TRIGGER unit_types_sought ON unit_types;
      DROP TRIGGER units_sought ON units;
      ALTER TABLE parts DROP COLUMN sought;
      ALTER TABLE places DROP COLUMN sought;
      ALTER TABLE lots DROP COLUMN sought;
      ALTER TABLE components DROP COLUMN sought;
      ALTER TABLE unsorted_boxes DROP COLUMN sought;
      ALTER TABLE units DROP COLUMN sought;
      DROP FUNCTION keep_words_of_type, keep_words_of_unit, words_of_unit, sought, sought_query, sought_words, sought_singular, sought_measure;
      DROP INDEX movements_to, movements_from, movements_recorded, places_in_order, stores_flags_thing, claim_changes_thing;`);
  }
}

// The rows of the ledger lie in the order in which they were recorded, so a summary of each stretch of them is as good as an index and costs nothing.
const indexes = `
  CREATE INDEX movements_to ON movements (to_holder_id, recorded_at);
  CREATE INDEX movements_from ON movements (from_holder_id, recorded_at);
  CREATE INDEX movements_recorded ON movements USING brin (recorded_at) WITH (pages_per_range = 32, autosummarize = on);
  CREATE INDEX places_in_order ON places (path COLLATE "C", holder_id);
  CREATE INDEX units_marks_pieces ON units USING gin (marks_key gin_trgm_ops);
  CREATE INDEX units_marks_unread ON units (marks_key) WHERE strpos(marks_key, '?') > 0;
  CREATE INDEX stores_flags_thing ON stores_flags (thing_id);
  CREATE INDEX claim_changes_thing ON claim_changes (thing_id) WHERE thing_id IS NOT NULL;
`;

const words = `
  -- "1+1/2" is 1.5, "1.50" is 1.5, ".5" is 0.5; anything else is left as it is
  CREATE FUNCTION sought_measure(said text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT CASE
      WHEN said ~ '^([0-9]{1,4}\\+)?[0-9]{1,3}/(2|4|8|16|32|64)$' THEN trim_scale(
        coalesce(substring(said FROM '^([0-9]+)\\+')::numeric, 0)
        + round(substring(said FROM '([0-9]+)/')::numeric / substring(said FROM '/([0-9]+)$')::numeric, 6))::text
      WHEN said ~ '^[0-9]{0,6}\\.[0-9]{1,6}$' THEN trim_scale(('0' || said)::numeric)::text
      ELSE said END
  $$;

  -- one of many: "seals" is "seal", "bushes" is "bush", "assemblies" is "assembly"; a word with a figure in it is no plural
  CREATE FUNCTION sought_singular(word text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT CASE
      WHEN word ~ '[0-9]' OR length(word) < 4 OR word ~ '(ss|us|is)$' THEN word
      WHEN word ~ '..ies$' THEN left(word, -3) || 'y'
      WHEN word ~ '(ss|x|z|ch|sh)es$' THEN left(word, -2)
      WHEN word ~ 's$' THEN left(word, -1)
      ELSE word END
  $$;

  -- Of a word without an end its beginning stands for all of it, for an index takes no longer ones.
  -- The words of what somebody wrote or keyed, so that both come out alike: sizes as one word ("30 x 47 x 7", "30x47x7 mm" and "30-47-7" are 30x47x7), fractions
  -- of an inch as decimals, one of many, and without the words that say nothing.
  CREATE FUNCTION sought_words(said text) RETURNS text[] LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    WITH plain AS (
      SELECT translate(lower(normalize(regexp_replace(said, '([0-9])([¼½¾⅛⅜⅝⅞])', '\\1 \\2', 'g'), NFKC)), E'⁄×', '/x') AS text),
    fractions AS (
      SELECT regexp_replace(text, '([0-9]+)(?:\\s+|-)([0-9]+/[0-9]+)', '\\1+\\2', 'g') AS text FROM plain),
    without_units AS (
      SELECT regexp_replace(text, '([0-9])\\s*(?:mm|inches|inch|ins|in|"|″|′′|'''')(?=[^a-z]|$)', '\\1 ', 'g') AS text FROM fractions),
    sizes AS (
      SELECT regexp_replace(regexp_replace(text,
          '(^|[^0-9./-])([0-9]{1,3}(?:\\.[0-9]+)?)[-/]([0-9]{1,3}(?:\\.[0-9]+)?)[-/]([0-9]{1,3}(?:\\.[0-9]+)?)(?=[^0-9/-]|$)', '\\1\\2x\\3x\\4', 'g'),
          '([0-9])\\s*(?:x|by|\\*)\\s*(?=[.0-9])', '\\1x', 'g') AS text FROM without_units),
    each AS (
      SELECT left(btrim(piece, './+'), 80) AS word FROM sizes, regexp_split_to_table(text, '[][\\s,;:()"''\`’‘“”!?&*=<>|_\\\\-]+') AS piece)
    SELECT coalesce(array_agg(DISTINCT CASE
        WHEN word ~ '^[0-9./+]+(x[0-9./+]+)+$' THEN (SELECT string_agg(sought_measure(measure), 'x' ORDER BY at) FROM unnest(string_to_array(word, 'x')) WITH ORDINALITY AS of (measure, at))
        WHEN word ~ '^[0-9./+]+$' THEN sought_measure(word)
        ELSE sought_singular(word) END), '{}')
      FROM each
     WHERE word <> '' AND word <> ALL ('{the,that,this,those,these,a,an,of,for,with,and,or,one,ones,some,from,off,on,in,to,it,its,is,my,our,thing,s}'::text[])
  $$;

  -- All of these words, each at least begun so; null where none says anything.
  CREATE FUNCTION sought_query(words text[]) RETURNS tsquery LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT string_agg('''' || word || ''':*', ' & ')::tsquery FROM unnest(words) AS word
  $$;

  CREATE FUNCTION sought(said text) RETURNS tsvector LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
    SELECT array_to_tsvector(sought_words(said))
  $$;
`;

const indexed = (table: string): string =>
  `CREATE INDEX ${table}_sought ON ${table} USING gin (sought) WITH (gin_pending_list_limit = 256);`;

const columns = `
  ALTER TABLE parts ADD COLUMN sought tsvector GENERATED ALWAYS AS (sought(name || ' ' || description || ' ' || nicknames)) STORED;
  ALTER TABLE places ADD COLUMN sought tsvector GENERATED ALWAYS AS (sought(path || ' ' || nicknames)) STORED;
  ALTER TABLE lots ADD COLUMN sought tsvector GENERATED ALWAYS AS (sought(words || ' ' || marks)) STORED;
  ALTER TABLE components ADD COLUMN sought tsvector GENERATED ALWAYS AS (sought(name)) STORED;
  ALTER TABLE unsorted_boxes ADD COLUMN sought tsvector GENERATED ALWAYS AS (sought(words)) STORED;
  ALTER TABLE units ADD COLUMN sought tsvector NOT NULL DEFAULT '';
  ${['parts', 'places', 'lots', 'components', 'unsorted_boxes', 'units'].map(indexed).join('\n  ')}
`;

const wordsOfUnits = `
  -- what a unit is looked for by: its type with the type's maker, and its own words and marks
  CREATE FUNCTION words_of_unit(of_type uuid, own_words text, own_marks text) RETURNS tsvector LANGUAGE sql STABLE AS $$
    SELECT sought(concat_ws(' ', (SELECT concat_ws(' ', makers.name, model, variant, kind) FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = of_type),
                            own_words, own_marks))
  $$;

  -- The type and its maker are held meanwhile, so that neither is renamed beside it.
  CREATE FUNCTION keep_words_of_unit() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    PERFORM 1 FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = NEW.unit_type_id FOR SHARE;
    NEW.sought := words_of_unit(NEW.unit_type_id, NEW.words, NEW.marks);
    RETURN NEW;
  END $$;
  CREATE TRIGGER units_sought BEFORE INSERT OR UPDATE OF unit_type_id, words, marks, sought ON units FOR EACH ROW EXECUTE FUNCTION keep_words_of_unit();

  CREATE FUNCTION keep_words_of_type() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    IF TG_TABLE_NAME = 'makers' THEN
      UPDATE units SET sought = '' WHERE unit_type_id IN (SELECT id FROM unit_types WHERE maker_id = NEW.id);
    ELSE
      UPDATE units SET sought = '' WHERE unit_type_id = NEW.id;
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER unit_types_sought AFTER UPDATE OF maker_id, kind, model, variant ON unit_types FOR EACH ROW
    WHEN ((OLD.maker_id, OLD.kind, OLD.model, OLD.variant) IS DISTINCT FROM (NEW.maker_id, NEW.kind, NEW.model, NEW.variant)) EXECUTE FUNCTION keep_words_of_type();
  CREATE TRIGGER makers_sought AFTER UPDATE OF name ON makers FOR EACH ROW WHEN (OLD.name <> NEW.name) EXECUTE FUNCTION keep_words_of_type();

  UPDATE units SET sought = '';
`;
