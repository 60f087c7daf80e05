import type { ReactNode } from 'react';
import { classNames } from './class-names.js';
import styles from './Table.module.css';

export interface Column<Row> {
  readonly key: string;
  readonly head: string;
  readonly cell: (row: Row) => ReactNode;
  /** Figures stand right, under one another. */
  readonly isNumeric?: boolean;
  /** The first thing a phone shows of a row. */
  readonly isLead?: boolean;
  /** Sentences: on a phone they have the whole width. */
  readonly isWide?: boolean;
  /** A width for desk screens, in any CSS length. */
  readonly width?: string;
}

export interface TableProps<Row> {
  /** Read aloud before the rows. */
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
}

/** Rows under a rule, parted by hairlines. On a phone each row becomes a short list with the column's name before each value. */
export function Table<Row>({ caption, columns, rows, rowKey }: TableProps<Row>) {
  return (
    <table className={styles.table}>
      <caption className="hidden">{caption}</caption>
      <thead>
        <tr>
          {columns.map((column) => (
            <th
              key={column.key}
              scope="col"
              className={classNames(column.isNumeric === true && 'num')}
              style={column.width === undefined ? undefined : { width: column.width }}
            >
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={rowKey(row)}>
            {columns.map((column) => (
              <td
                key={column.key}
                data-label={column.head}
                className={classNames(
                  column.isNumeric === true && 'num',
                  column.isLead === true && styles.lead,
                  column.isWide === true && styles.wide,
                )}
              >
                {column.cell(row)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
