import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/** Codes that are printed before anything bears them, to be taken to where things are; and by whom and when. */
export class BlankCodes1764061200018 implements MigrationInterface {
  name = 'BlankCodes1764061200018';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(blanks);
    await grantServing(runner, 'append', ['code_blocks', 'blank_codes']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TRIGGER label_prints_known ON label_prints;
      DROP FUNCTION demand_known_code();
      DELETE FROM label_prints WHERE NOT EXISTS (SELECT 1 FROM codes WHERE codes.code = label_prints.code);
      ALTER TABLE label_prints ADD FOREIGN KEY (code) REFERENCES codes;
      DROP TABLE blank_codes, code_blocks;`);
  }
}

const blanks = `
  CREATE TABLE code_blocks (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    kind char(1) NOT NULL CHECK (kind IN ('U', 'L', 'X')),
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  -- one that is in codes as well is claimed
  CREATE TABLE blank_codes (
    code text COLLATE "C" PRIMARY KEY,
    block_id uuid NOT NULL REFERENCES code_blocks
  );
  CREATE INDEX blank_codes_block ON blank_codes (block_id, code);

  -- what is printed is on something, or set aside for it
  ALTER TABLE label_prints DROP CONSTRAINT label_prints_code_fkey;
  CREATE FUNCTION demand_known_code() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF NOT EXISTS (SELECT 1 FROM codes WHERE code = NEW.code) AND NOT EXISTS (SELECT 1 FROM blank_codes WHERE code = NEW.code) THEN
      RAISE EXCEPTION 'no label has the code %', NEW.code USING ERRCODE = 'foreign_key_violation', CONSTRAINT = TG_NAME;
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER label_prints_known BEFORE INSERT ON label_prints FOR EACH ROW EXECUTE FUNCTION demand_known_code();

  CREATE TRIGGER code_blocks_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON code_blocks FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
  CREATE TRIGGER blank_codes_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON blank_codes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
