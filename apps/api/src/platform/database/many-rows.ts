/** A statement that writes any number of rows: `$1`, `$2`, … are its columns, each with the values of all rows. */
export interface ManyRows {
  readonly text: string;
}

/** @param columns `name type` of each, in the order in which values are given */
export function rowsInto(table: string, ...columns: string[]): ManyRows {
  const parted = columns.map((column) => column.split(' '));
  const names = parted.map(([name]) => name).join(', ');
  const values = parted.map(([, type], index) => `$${index + 1}::${type}[]`).join(', ');
  return { text: `INSERT INTO ${table} (${names}) SELECT * FROM unnest(${values})` };
}

/** Rows as such a statement takes them: by columns. */
export function rowsTogether(rows: readonly (readonly unknown[])[]): unknown[][] {
  return (rows[0] ?? []).map((_, column) => rows.map((row) => row[column]));
}
