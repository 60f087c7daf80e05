import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantSequences, grantServing, grantServingColumns } from './serving-grants.js';

/**
 * Counter sales with receipts whose numbers have no gaps, what came back of them, what is kept for the workshop's own jobs, and trays that
 * were emptied back into stores. The database itself refuses to sell what is a customer's or condemned, a receipt whose lines do not come to
 * its total, and more back than was sold.
 */
export class SalesAndUnKits1764061200031 implements MigrationInterface {
  name = 'SalesAndUnKits1764061200031';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [counter, kept, sales, returns, guards, unKits]) await runner.query(statements);
    await grantServing(runner, 'append', [
      'kept_for_jobs',
      'sales',
      'sale_lines',
      'sale_movements',
      'sale_returns',
      'un_kits',
      'un_kit_rows',
      'un_kit_claims',
    ]);
    await grantServing(runner, 'edit', ['receipt_paper']);
    await grantServingColumns(runner, 'kept_for_jobs', ['lifted_at', 'lifted_by', 'lifted_why']);
    await grantSequences(runner, ['sale_returns_sequence_seq']);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    await runner.query(`GRANT SELECT ON receipt_numbers TO ${row?.role}`);
  }

  async down(): Promise<void> {
    throw new Error('What was sold is not taken down: restore a backup instead.');
  }
}

const counter = `
  -- whoever buys at the counter and is no firm of the books; known to the code by this id
  INSERT INTO holders (id, kind) VALUES ('00000000-0000-7000-8000-00000000c057', 'customer') ON CONFLICT (id) DO NOTHING;

  -- what stands on every receipt; the name of the workshop is its own
  CREATE TABLE receipt_paper (
    only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
    address text NOT NULL DEFAULT '',
    tax_words text NOT NULL DEFAULT '',
    foot_words text NOT NULL DEFAULT '',
    version integer NOT NULL DEFAULT 1
  );
  INSERT INTO receipt_paper DEFAULT VALUES;
`;

const kept = `
  -- a part, or a thing, that is not sold without a word of whoever keeps the books
  CREATE TABLE kept_for_jobs (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    part_id uuid REFERENCES parts,
    thing_id uuid REFERENCES things,
    reason text NOT NULL CHECK (reason <> ''),
    kept_by uuid NOT NULL REFERENCES people,
    kept_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    lifted_at timestamptz,
    lifted_by uuid REFERENCES people,
    lifted_why text,
    CHECK (num_nonnulls(part_id, thing_id) = 1),
    CHECK (num_nonnulls(lifted_at, lifted_by, lifted_why) IN (0, 3)),
    CHECK (lifted_why <> '')
  );
  CREATE UNIQUE INDEX kept_for_jobs_part ON kept_for_jobs (part_id) WHERE lifted_at IS NULL;
  CREATE UNIQUE INDEX kept_for_jobs_thing ON kept_for_jobs (thing_id) WHERE lifted_at IS NULL;
`;

const sales = `
  CREATE TABLE receipt_numbers (
    only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
    last integer NOT NULL DEFAULT 0
  );
  INSERT INTO receipt_numbers DEFAULT VALUES;

  -- what the paper said that day stays with the sale
  CREATE TABLE sales (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL UNIQUE REFERENCES commands,
    number integer NOT NULL UNIQUE CHECK (number > 0),
    sold_on date NOT NULL,
    buyer_id uuid REFERENCES parties,
    buyer_words text NOT NULL DEFAULT '',
    paid_words text NOT NULL DEFAULT '',
    note text NOT NULL DEFAULT '',
    currency char(3) NOT NULL,
    total_minor bigint NOT NULL CHECK (total_minor >= 0),
    seller_name text NOT NULL,
    seller_address text NOT NULL,
    tax_words text NOT NULL,
    foot_words text NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX sales_day ON sales (sold_on DESC, number DESC);

  -- price: of the whole line. said: what the receipt says of it, the reason of whoever let it go among it
  CREATE TABLE sale_lines (
    id uuid PRIMARY KEY,
    sale_id uuid NOT NULL REFERENCES sales,
    line_no smallint NOT NULL CHECK (line_no > 0),
    thing_id uuid NOT NULL REFERENCES things,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    unit_of_measure text NOT NULL,
    words text NOT NULL CHECK (words <> ''),
    said text NOT NULL DEFAULT '',
    price_minor bigint NOT NULL CHECK (price_minor >= 0),
    kept_set_id uuid REFERENCES kept_sets,
    let_go_by uuid REFERENCES people,
    let_go_why text NOT NULL DEFAULT '',
    UNIQUE (sale_id, line_no),
    UNIQUE (sale_id, thing_id),
    CHECK ((let_go_by IS NULL) = (let_go_why = ''))
  );
  CREATE INDEX sale_lines_thing ON sale_lines (thing_id);

  CREATE TABLE sale_movements (
    movement_id uuid PRIMARY KEY REFERENCES movements,
    sale_line_id uuid NOT NULL REFERENCES sale_lines
  );
  CREATE INDEX sale_movements_line ON sale_movements (sale_line_id);
`;

const returns = `
  -- fitted: it was in a unit at the buyer's, so that it comes back as a lot of its own and is never new again
  CREATE TABLE sale_returns (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    sale_line_id uuid NOT NULL REFERENCES sale_lines,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    returned_on date NOT NULL,
    why text NOT NULL CHECK (why <> ''),
    money_words text NOT NULL DEFAULT '',
    given_back_minor bigint NOT NULL CHECK (given_back_minor >= 0),
    fitted boolean NOT NULL,
    new_lot_id uuid REFERENCES lots,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp(),
    CHECK (new_lot_id IS NULL OR fitted)
  );
  CREATE INDEX sale_returns_line ON sale_returns (sale_line_id);
`;

const keptTables = ['sales', 'sale_lines', 'sale_movements', 'sale_returns', 'un_kits', 'un_kit_rows', 'un_kit_claims'];

const guards = `
  -- the next number is given with the sale itself, so that a sale that is undone leaves no gap
  CREATE FUNCTION number_the_receipt() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  BEGIN
    UPDATE receipt_numbers SET last = last + 1 RETURNING last INTO NEW.number;
    RETURN NEW;
  END $$;
  CREATE TRIGGER sales_numbered BEFORE INSERT ON sales FOR EACH ROW EXECUTE FUNCTION number_the_receipt();

  CREATE FUNCTION refuse_to_sell() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF EXISTS (SELECT FROM things WHERE id = NEW.thing_id AND (owner_id IS NOT NULL OR condemned)) THEN
      RAISE EXCEPTION 'What is a customer''s or condemned is not sold' USING ERRCODE = 'check_violation', CONSTRAINT = 'sold_is_ours';
    END IF;
    RETURN NEW;
  END $$;
  CREATE TRIGGER sale_lines_ours BEFORE INSERT ON sale_lines FOR EACH ROW EXECUTE FUNCTION refuse_to_sell();

  CREATE FUNCTION refuse_uneven_receipt() RETURNS trigger LANGUAGE plpgsql AS $$
  DECLARE
    sale uuid := CASE TG_TABLE_NAME WHEN 'sales' THEN to_jsonb(NEW)->>'id' ELSE to_jsonb(NEW)->>'sale_id' END;
  BEGIN
    IF (SELECT total_minor FROM sales WHERE id = sale) IS DISTINCT FROM (SELECT sum(price_minor) FROM sale_lines WHERE sale_id = sale) THEN
      RAISE EXCEPTION 'the lines of a receipt come to its total' USING ERRCODE = 'CW004';
    END IF;
    RETURN NULL;
  END $$;
  CREATE CONSTRAINT TRIGGER sales_even AFTER INSERT ON sales DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW EXECUTE FUNCTION refuse_uneven_receipt();
  CREATE CONSTRAINT TRIGGER sale_lines_even AFTER INSERT ON sale_lines DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW EXECUTE FUNCTION refuse_uneven_receipt();

  CREATE FUNCTION refuse_more_back_than_sold() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN
    IF (SELECT sum(quantity) FROM sale_returns WHERE sale_line_id = NEW.sale_line_id)
        > (SELECT quantity FROM sale_lines WHERE id = NEW.sale_line_id)
      OR (SELECT sum(given_back_minor) FROM sale_returns WHERE sale_line_id = NEW.sale_line_id)
        > (SELECT price_minor FROM sale_lines WHERE id = NEW.sale_line_id) THEN
      RAISE EXCEPTION 'No more comes back than was sold' USING ERRCODE = 'check_violation', CONSTRAINT = 'back_within_sold';
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER sale_returns_within AFTER INSERT ON sale_returns FOR EACH ROW EXECUTE FUNCTION refuse_more_back_than_sold();
`;

const unKits = `
  -- what lay in a job's tray went back to places, in one act; a second one that undoes it names the first
  CREATE TABLE un_kits (
    id uuid PRIMARY KEY,
    command_key uuid NOT NULL REFERENCES commands,
    job_id uuid NOT NULL REFERENCES jobs,
    claims text NOT NULL CHECK (claims IN ('as before', 'given up')),
    undoes_id uuid UNIQUE REFERENCES un_kits,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX un_kits_job ON un_kits (job_id, recorded_at DESC);
  CREATE TABLE un_kit_rows (
    movement_id uuid PRIMARY KEY REFERENCES movements,
    un_kit_id uuid NOT NULL REFERENCES un_kits
  );
  CREATE INDEX un_kit_rows_act ON un_kit_rows (un_kit_id);
  -- of what lay in the tray for a line: how many were claimed, and how many of them stay reserved
  CREATE TABLE un_kit_claims (
    id uuid PRIMARY KEY,
    un_kit_id uuid NOT NULL REFERENCES un_kits,
    thing_id uuid NOT NULL REFERENCES things,
    job_line_id uuid REFERENCES job_lines,
    quantity numeric(14,4) NOT NULL CHECK (quantity > 0),
    stays numeric(14,4) NOT NULL CHECK (stays >= 0 AND stays <= quantity)
  );
  CREATE INDEX un_kit_claims_act ON un_kit_claims (un_kit_id);
${keptTables
  .map(
    (table) =>
      `  CREATE TRIGGER ${table}_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();`,
  )
  .join('\n')}
`;
