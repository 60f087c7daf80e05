import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Of a type there may be hundreds of units, and all of them are found by the words of the type: the type is looked for, then its units in order, as far as the page. The
 * words of units stay, for those that are found by what was written of one alone.
 */
export class WordsOfTypes1764061200037 implements MigrationInterface {
  name = 'WordsOfTypes1764061200037';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [ofTypes, keptWithMaker("UPDATE unit_types SET sought = '' WHERE maker_id = NEW.id;")])
      await runner.query(statements);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      ${keptWithMaker('')}
      DROP TRIGGER unit_types_words ON unit_types;
      ALTER TABLE unit_types DROP COLUMN sought;
      DROP FUNCTION keep_own_words_of_type, words_of_type;
      DROP INDEX units_type;
      CREATE INDEX units_type ON units (unit_type_id);`);
  }
}

const ofTypes = `
  CREATE FUNCTION words_of_type(of_maker uuid, own_model text, own_variant text, own_kind text) RETURNS tsvector LANGUAGE sql STABLE AS $$
    SELECT sought(concat_ws(' ', (SELECT name FROM makers WHERE id = of_maker), own_model, own_variant, own_kind))
  $$;

  -- The maker is held meanwhile, so that it is not renamed beside it.
  CREATE FUNCTION keep_own_words_of_type() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    PERFORM 1 FROM makers WHERE id = NEW.maker_id FOR SHARE;
    NEW.sought := words_of_type(NEW.maker_id, NEW.model, NEW.variant, NEW.kind);
    RETURN NEW;
  END $$;

  ALTER TABLE unit_types ADD COLUMN sought tsvector NOT NULL DEFAULT '';
  CREATE TRIGGER unit_types_words BEFORE INSERT OR UPDATE OF maker_id, kind, model, variant, sought ON unit_types
    FOR EACH ROW EXECUTE FUNCTION keep_own_words_of_type();
  UPDATE unit_types SET sought = '';
  CREATE INDEX unit_types_sought ON unit_types USING gin (sought) WITH (gin_pending_list_limit = 256);

  DROP INDEX units_type;
  CREATE INDEX units_type ON units (unit_type_id, thing_id);
`;

/** @param alsoOfTypes what else is done where a maker is called otherwise */
const keptWithMaker = (alsoOfTypes: string): string => `
  CREATE OR REPLACE FUNCTION keep_words_of_type() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    IF TG_TABLE_NAME = 'makers' THEN
      ${alsoOfTypes}
      UPDATE units SET sought = '' WHERE unit_type_id IN (SELECT id FROM unit_types WHERE maker_id = NEW.id);
    ELSE
      UPDATE units SET sought = '' WHERE unit_type_id = NEW.id;
    END IF;
    RETURN NULL;
  END $$;`;
