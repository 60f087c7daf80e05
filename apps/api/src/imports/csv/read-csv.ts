import { type Parser, parse } from 'csv-parse';
import { textOf } from './text-encoding.js';

/** A row of a file with the line on which it begins; the headings are on line 1. */
export interface CsvRecord {
  line: number;
  cells: string[];
}

/** From here on the file cannot be read. */
export class CsvUnreadable extends Error {
  override readonly name = 'CsvUnreadable';
  constructor(
    readonly line: number,
    words: string,
  ) {
    super(words);
  }
}

/** A row that is longer has a quotation mark that nobody closed. */
const charactersMax = 200_000;

/**
 * The rows of a CSV file by RFC 4180, read piece by piece: commas, quotation marks round cells (also across lines), lines ended
 * in any way. Empty lines are passed over. Every row before a fault comes out before it. @throws CsvUnreadable
 */
export async function* recordsOf(
  path: string,
  label: 'utf-8' | 'windows-1252',
  bytesRead: (count: number) => void = () => {},
): AsyncGenerator<CsvRecord> {
  let read: CsvRecord[] = [];
  let line = 1;
  const parser = parse({
    raw: true,
    relax_column_count: true,
    record_delimiter: ['\r\n', '\n', '\r'],
    max_record_size: charactersMax,
    // Rows are taken here and not from the stream, which forgets what it holds when it breaks off.
    on_record: (taken: unknown) => {
      const { record, raw } = taken as { record: string[]; raw: string };
      if (record.length > 1 || record[0] !== '') read.push({ line, cells: record });
      line += raw.match(/\r\n|\n|\r/g)?.length ?? 0;
      return null;
    },
  });
  const feeding = feed(parser, textOf(path, label, bytesRead));
  try {
    for await (const failure of feeding) {
      const ready = read;
      read = [];
      yield* ready;
      if (failure !== null) throw unreadable(failure, line);
    }
  } finally {
    parser.destroy();
  }
}

/** Gives the parser its text, and says after each piece whether that broke off. */
async function* feed(parser: Parser, pieces: AsyncIterable<string>): AsyncGenerator<unknown> {
  let failure: unknown = null;
  const closed = new Promise<void>((settle) => parser.once('close', settle));
  parser.on('error', (error) => {
    failure = error;
  });
  parser.resume();
  for await (const piece of pieces) {
    if (piece === '') continue;
    await new Promise<void>((settle) => parser.write(piece, () => settle()));
    if (failure !== null) await closed;
    yield failure;
  }
  parser.end();
  await closed;
  yield failure;
}

const whole = 'Put the whole cell between quotation marks and double each one within it: "3/8"" bolt".';

function unreadable(error: unknown, line: number): unknown {
  const code = (error as { code?: unknown } | null)?.code;
  if (code === 'INVALID_OPENING_QUOTE') return new CsvUnreadable(line, `A quotation mark stands inside a cell. ${whole}`);
  if (code === 'CSV_INVALID_CLOSING_QUOTE')
    return new CsvUnreadable(line, `A quotation mark ends before its cell does. ${whole}`);
  if (code === 'CSV_QUOTE_NOT_CLOSED' || code === 'CSV_MAX_RECORD_SIZE')
    return new CsvUnreadable(
      line,
      'A quotation mark opens on this line or soon after it, and none closes it. Close it, or take it out.',
    );
  return error;
}
