import type { QueryRunner } from 'typeorm';

export type Right = 'append' | 'edit' | 'edit-and-remove';

const rightsOf: Record<Right, string> = {
  append: 'SELECT, INSERT',
  edit: 'SELECT, INSERT, UPDATE',
  'edit-and-remove': 'SELECT, INSERT, UPDATE, DELETE',
};

/**
 * Gives the serving login its rights on tables. The login is not the owner; its name comes from the setting
 * `corewright.serving_role`, which the runner of the migrations sets.
 */
export async function grantServing(runner: QueryRunner, right: Right, tables: readonly string[]): Promise<void> {
  const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
    role: string;
  }[];
  for (const table of tables) await runner.query(`GRANT ${rightsOf[right]} ON ${table} TO ${row?.role}`);
}

/** Lets the serving login draw numbers from sequences. */
export async function grantSequences(runner: QueryRunner, sequences: readonly string[]): Promise<void> {
  const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
    role: string;
  }[];
  for (const sequence of sequences) await runner.query(`GRANT USAGE, SELECT ON SEQUENCE ${sequence} TO ${row?.role}`);
}

/** Lets the serving login change these columns of a table, and no other. */
export async function grantServingColumns(runner: QueryRunner, table: string, columns: readonly string[]): Promise<void> {
  const [row] = (await runner.query(`SELECT quote_ident(current_setting('corewright.serving_role')) AS role`)) as {
    role: string;
  }[];
  await runner.query(`GRANT UPDATE (${columns.join(', ')}) ON ${table} TO ${row?.role}`);
}
