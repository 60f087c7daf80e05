import { type CsvRecord, CsvUnreadable } from './csv/read-csv.js';
import type { FileReader } from './file-reader.js';
import type { ReportBook } from './import-report.js';

/** The columns of a file by its first row; null, with every fault told, where they are not those that are read. */
export function headingsOf({ file, columns }: FileReader, first: CsvRecord | CsvUnreadable, report: ReportBook): string[] | null {
  if (first instanceof CsvUnreadable) return null;
  const names = columns.map(({ name }) => name);
  const headings = first.cells.map((cell) =>
    cell
      .trim()
      .toLowerCase()
      .replace(/[\s-]+/g, '_'),
  );
  const fault = (column: string, words: string): void => report.fault({ file, line: first.line, column, value: column, words });
  const before = report.faultsTotal;
  const separator = [';', '\t'].find((each) => first.cells.length === 1 && first.cells[0]?.includes(each));
  if (separator)
    fault(
      '',
      `The cells are parted by ${separator === ';' ? 'semicolons' : 'tabs'}. Save the file with commas between them: "CSV UTF-8 (comma delimited)".`,
    );
  else {
    for (const heading of new Set(headings)) {
      if (!names.includes(heading))
        fault(
          heading,
          `${heading === '' ? 'A heading is empty' : `There is no column "${heading}" in ${file}.csv`}. Its columns are: ${names.join(', ')}. Rename it or take it out.`,
        );
      else if (headings.filter((each) => each === heading).length > 1)
        fault(heading, `There are several columns "${heading}". Keep one.`);
    }
    for (const { name, filled } of columns)
      if (filled && !headings.includes(name))
        fault(name, `The column "${name}" is missing. Add it: no row can be read without it.`);
  }
  return report.faultsTotal > before ? null : headings;
}
