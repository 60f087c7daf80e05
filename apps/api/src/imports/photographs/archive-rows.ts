import { Id, Instant, ShortText } from '@corewright/contracts/base';
import { PictureShows, photographColumns } from '@corewright/contracts/pictures';
import { parse } from 'csv-parse/sync';
import * as z from 'zod';
import { cellFromSpreadsheet } from '../../platform/csv/spreadsheet-cell.js';

const Row = z.object({
  id: Id,
  file: z.string().regex(/^[0-9a-f]{64}\.(jpg|png|webp)$/, 'no name of a file in an archive of photographs'),
  of: z.enum(['unit', 'lot', 'unsorted', 'job', 'place', 'component', 'sign']),
  reference: z.string().min(1),
  shows: PictureShows,
  words: ShortText,
  taken_at: Instant,
  taken_by: z.string(),
  struck_out: ShortText,
});

/** A photograph as the list of an archive names it. */
export type ArchiveRow = z.infer<typeof Row> & { line: number };
export interface ArchiveFault {
  line: number;
  words: string;
}

interface Read {
  record: Record<string, string>;
  info: { lines: number };
}

/** The list of an archive: what can be read of it, and what is wrong with the rest. */
export function archiveRowsOf(list: Buffer): { rows: ArchiveRow[]; faults: ArchiveFault[] } {
  const rows: ArchiveRow[] = [];
  const faults: ArchiveFault[] = [];
  let records: Read[];
  try {
    const options = { bom: true, columns: true, info: true, relax_column_count: true, skip_empty_lines: true } as const;
    records = parse(list, options) as unknown as Read[];
  } catch (error) {
    return { rows, faults: [{ line: 1, words: `The list cannot be read: ${(error as Error).message}` }] };
  }
  for (const { record, info } of records) {
    const cells = Object.fromEntries(photographColumns.map((column) => [column, cellFromSpreadsheet(record[column] ?? '')]));
    const read = Row.safeParse(cells);
    if (read.success) rows.push({ ...read.data, line: info.lines });
    else {
      const [first] = read.error.issues;
      faults.push({ line: info.lines, words: `${first?.path.join('.') ?? 'The row'}: ${first?.message ?? 'cannot be read'}` });
    }
  }
  return { rows, faults };
}
