import type { Pool, PoolClient, QueryResultRow } from 'pg';

type Values = readonly unknown[];

const names = new Map<string, string>();

/** Every statement is a constant of the code, so each is prepared once a connection under a name of its own. */
function nameOf(text: string): string {
  let name = names.get(text);
  if (name === undefined) {
    name = `cw${names.size}`;
    names.set(text, name);
  }
  return name;
}

/** The rows that a statement gives. `text` must be a constant: values go in `values` only. */
export async function rowsOf<Row extends QueryResultRow>(
  on: Pool | PoolClient,
  text: string,
  values: Values = [],
): Promise<Row[]> {
  const answer = await on.query<Row>({ name: nameOf(text), text, values: values as unknown[] });
  return answer.rows;
}

/** The only row, or null. */
export async function rowOf<Row extends QueryResultRow>(
  on: Pool | PoolClient,
  text: string,
  values: Values = [],
): Promise<Row | null> {
  const rows = await rowsOf<Row>(on, text, values);
  return rows[0] ?? null;
}
