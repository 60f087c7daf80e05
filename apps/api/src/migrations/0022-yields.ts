import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing } from './serving-grants.js';

/**
 * How often each component was serviceable, kept by type, grade and position beside the findings from which it is counted; when cores
 * are looked through again, and what was decided of each.
 */
export class Yields1764061200022 implements MigrationInterface {
  name = 'Yields1764061200022';

  async up(runner: QueryRunner): Promise<void> {
    for (const statements of [counting, keptCounts, countedBefore, reviews]) await runner.query(statements);
    const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
      role: string;
    }[];
    // The counts belong to the triggers (SECURITY DEFINER).
    await runner.query(`GRANT SELECT ON component_yields, counted_findings TO ${row?.role}`);
    await grantServing(runner, 'append', ['core_reviews']);
    await grantServing(runner, 'edit', ['core_review_marks']);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`
      DROP TABLE core_reviews, core_review_marks;
      DROP TRIGGER strip_findings_counted ON strip_findings;
      DROP TRIGGER units_counted ON units;
      DROP FUNCTION keep_component_yields();
      DROP FUNCTION move_component_yields();
      DROP FUNCTION count_component(uuid, smallint, text, integer, integer, integer);
      DROP TABLE component_yields;
      DROP VIEW counted_findings;
      DROP FUNCTION counts_in_yield(boolean, text, text), is_serviceable(text, text), is_serviceable_after_work(text, text);`);
  }
}

const counting = `
  -- what was never looked at counts in no yield, nor does what nobody expected, nor what is held until somebody decides;
  -- what is missing, or is another thing than it should be, was looked at and is not serviceable
  CREATE FUNCTION counts_in_yield(looked_at boolean, kind text, disposition text) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
    SELECT looked_at AND kind <> 'extra' AND disposition IS DISTINCT FROM 'hold'
  $$;
  CREATE FUNCTION is_serviceable(kind text, disposition text) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
    SELECT kind = 'as expected' AND disposition IN ('re-use here', 'to stores', 'left in place')
  $$;
  CREATE FUNCTION is_serviceable_after_work(kind text, disposition text) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
    SELECT kind = 'as expected' AND disposition IN ('re-use after rework', 'send out')
  $$;

  CREATE VIEW counted_findings AS
    SELECT strip_down_id, position, quantity::integer AS looked,
           CASE WHEN is_serviceable(kind, disposition) THEN quantity::integer ELSE 0 END AS serviceable,
           CASE WHEN is_serviceable_after_work(kind, disposition) THEN quantity::integer ELSE 0 END AS after_work
      FROM strip_findings AS found
     WHERE counts_in_yield(looked_at, kind, disposition)
       AND NOT EXISTS (SELECT FROM strip_findings AS later WHERE later.supersedes_id = found.id);
`;

const keptCounts = `
  -- pieces, by the type that the unit was when it was taken apart and the grade that it has now; an empty grade is none
  CREATE TABLE component_yields (
    unit_type_id uuid NOT NULL REFERENCES unit_types,
    position smallint NOT NULL,
    grade text NOT NULL,
    looked integer NOT NULL DEFAULT 0 CHECK (looked >= 0),
    serviceable integer NOT NULL DEFAULT 0 CHECK (serviceable >= 0),
    after_work integer NOT NULL DEFAULT 0 CHECK (after_work >= 0),
    PRIMARY KEY (unit_type_id, position, grade),
    CHECK (serviceable + after_work <= looked)
  ) WITH (fillfactor = 80);

  CREATE FUNCTION count_component(of_type uuid, at_position smallint, with_grade text, more_looked integer, more_serviceable integer, more_after_work integer)
    RETURNS void LANGUAGE plpgsql AS $$
  BEGIN
    INSERT INTO component_yields (unit_type_id, position, grade) VALUES (of_type, at_position, with_grade) ON CONFLICT DO NOTHING;
    UPDATE component_yields
       SET looked = looked + more_looked, serviceable = serviceable + more_serviceable, after_work = after_work + more_after_work
     WHERE unit_type_id = of_type AND position = at_position AND grade = with_grade;
  END $$;

  -- A finding that takes the place of another counts instead of it. The unit's row is held meanwhile, so that its grade stays.
  CREATE FUNCTION keep_component_yields() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  DECLARE
    change record;
    stripped record;
  BEGIN
    SELECT coalesce(sum(sign * quantity), 0)::integer AS looked,
           coalesce(sum(sign * quantity) FILTER (WHERE is_serviceable(kind, disposition)), 0)::integer AS serviceable,
           coalesce(sum(sign * quantity) FILTER (WHERE is_serviceable_after_work(kind, disposition)), 0)::integer AS after_work
      INTO change
      FROM (SELECT 1 AS sign, NEW.quantity, NEW.kind, NEW.disposition, NEW.looked_at
            UNION ALL SELECT -1, quantity, kind, disposition, looked_at FROM strip_findings WHERE id = NEW.supersedes_id) AS changed
     WHERE counts_in_yield(looked_at, kind, disposition);
    IF change.looked = 0 AND change.serviceable = 0 AND change.after_work = 0 THEN RETURN NULL; END IF;
    SELECT strip_downs.unit_type_id, units.grade INTO STRICT stripped
      FROM strip_downs JOIN units ON units.thing_id = strip_downs.unit_id WHERE strip_downs.id = NEW.strip_down_id FOR SHARE OF units;
    IF stripped.unit_type_id IS NOT NULL THEN
      PERFORM count_component(stripped.unit_type_id, NEW.position, stripped.grade, change.looked, change.serviceable, change.after_work);
    END IF;
    RETURN NULL;
  END $$;
  CREATE TRIGGER strip_findings_counted AFTER INSERT ON strip_findings FOR EACH ROW EXECUTE FUNCTION keep_component_yields();

  -- a unit that is graded anew takes what came out of it along
  CREATE FUNCTION move_component_yields() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
  DECLARE
    counted record;
  BEGIN
    FOR counted IN
      SELECT unit_type_id, position, sum(looked)::integer AS looked, sum(serviceable)::integer AS serviceable, sum(after_work)::integer AS after_work
        FROM strip_downs JOIN counted_findings ON strip_down_id = strip_downs.id
       WHERE unit_id = NEW.thing_id AND unit_type_id IS NOT NULL GROUP BY unit_type_id, position ORDER BY unit_type_id, position
    LOOP
      PERFORM count_component(counted.unit_type_id, counted.position, OLD.grade, -counted.looked, -counted.serviceable, -counted.after_work);
      PERFORM count_component(counted.unit_type_id, counted.position, NEW.grade, counted.looked, counted.serviceable, counted.after_work);
    END LOOP;
    RETURN NULL;
  END $$;
  CREATE TRIGGER units_counted AFTER UPDATE OF grade ON units FOR EACH ROW WHEN (OLD.grade <> NEW.grade) EXECUTE FUNCTION move_component_yields();
`;

const countedBefore = `
  INSERT INTO component_yields (unit_type_id, position, grade, looked, serviceable, after_work)
  SELECT strip_downs.unit_type_id, position, grade, sum(looked), sum(serviceable), sum(after_work)
    FROM counted_findings JOIN strip_downs ON strip_downs.id = strip_down_id JOIN units ON units.thing_id = unit_id
   WHERE strip_downs.unit_type_id IS NOT NULL GROUP BY strip_downs.unit_type_id, position, grade;
`;

const reviews = `
  -- after so many months in the yard somebody looks at a core again; one row
  CREATE TABLE core_review_marks (
    one_row boolean PRIMARY KEY DEFAULT true CHECK (one_row),
    first_months smallint NOT NULL CHECK (first_months BETWEEN 1 AND 120),
    second_months smallint NOT NULL CHECK (second_months <= 240),
    version integer NOT NULL DEFAULT 1,
    CHECK (first_months < second_months)
  );
  INSERT INTO core_review_marks (first_months, second_months) VALUES (6, 12);

  CREATE TABLE core_reviews (
    id uuid PRIMARY KEY,
    sequence bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
    command_key uuid NOT NULL REFERENCES commands,
    unit_id uuid NOT NULL REFERENCES units,
    decided text NOT NULL CHECK (decided IN ('keep', 'rebuild', 'break for spares', 'sell')),
    note text NOT NULL CHECK (note <> ''),
    next_on date NOT NULL,
    person_id uuid NOT NULL REFERENCES people,
    recorded_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );
  CREATE INDEX core_reviews_unit ON core_reviews (unit_id, sequence DESC);
  CREATE TRIGGER core_reviews_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON core_reviews FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
`;
