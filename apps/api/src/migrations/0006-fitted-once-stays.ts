import type { MigrationInterface, QueryRunner } from 'typeorm';

/** A part that was fitted once is never new old stock again: the database itself keeps the mark. */
export class FittedOnceStays1764061200006 implements MigrationInterface {
  name = 'FittedOnceStays1764061200006';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(stays);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query('DROP TRIGGER lots_fitted_once_stays ON lots; DROP FUNCTION refuse_unfitting()');
  }
}

const stays = `
  CREATE FUNCTION refuse_unfitting() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    RAISE EXCEPTION 'A lot that was fitted once stays so' USING ERRCODE = 'check_violation', CONSTRAINT = 'fitted_once_stays';
  END $$;
  CREATE TRIGGER lots_fitted_once_stays BEFORE UPDATE OF fitted_once ON lots
    FOR EACH ROW WHEN (OLD.fitted_once AND NOT NEW.fitted_once) EXECUTE FUNCTION refuse_unfitting();
`;
