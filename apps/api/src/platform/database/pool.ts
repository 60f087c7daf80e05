import pg, { type Pool } from 'pg';
import { GatheringSocket } from './gathering-socket.js';

export interface PoolOptions {
  /** The most connections that this process opens. */
  max: number;
  /** Told of an idle connection that broke; the pool opens another when one is needed. */
  onError?: (error: Error) => void;
}

type Parser = (text: string) => unknown;

/** Object identifiers of the types of Postgres that are read otherwise than the driver would read them. */
const typeIds = {
  int8: 20,
  date: 1082,
  timestamptz: 1184,
  int8Array: 1016,
  numericArray: 1231,
  dateArray: 1182,
  timestamptzArray: 1185,
} as const;

/**
 * How values are read: int8 as a number where that is exact, else as a string of digits; numeric as a string of
 * digits; date as `YYYY-MM-DD`; timestamptz as an ISO 8601 instant in UTC, to the millisecond. Arrays alike.
 */
const parsers: ReadonlyMap<number, Parser> = new Map<number, Parser>([
  [typeIds.int8, readInteger],
  [typeIds.date, readAsIs],
  [typeIds.timestamptz, readInstant],
  [typeIds.int8Array, arrayOf(readInteger)],
  [typeIds.numericArray, arrayOf(readAsIs)],
  [typeIds.dateArray, arrayOf(readAsIs)],
  [typeIds.timestamptzArray, arrayOf(readInstant)],
]);

/** For `types` of any client of the driver, so that each reads values in the same way; nothing global is changed. */
export const valueTypes: pg.CustomTypesConfig = {
  getTypeParser: ((id: number, format?: 'text' | 'binary') => {
    const own = format === 'binary' ? undefined : parsers.get(id);
    return own ?? pg.types.getTypeParser(id, format as 'text');
  }) as pg.CustomTypesConfig['getTypeParser'],
};

/**
 * The pool that serves requests. Statements of one connection are sent without waiting for the answer to the one before
 * (pipelining); Postgres runs them in their order, each with a snapshot of its own.
 */
export function createPool(url: string, options: PoolOptions): Pool {
  const config: pg.PoolConfig & { pipeline: boolean } = {
    connectionString: url,
    max: options.max,
    types: valueTypes,
    application_name: 'corewright',
    connectionTimeoutMillis: 10_000,
    idleTimeoutMillis: 30_000,
    pipeline: true,
    stream: () => new GatheringSocket(),
  };
  const pool = new pg.Pool(config);
  // Without a listener a broken idle connection would end the process.
  pool.on('error', (error) => options.onError?.(error));
  // The same goes for one that breaks while it is lent out and no statement of it is under way. Whoever has it is told by
  // the next statement, and gives it back as broken.
  pool.on('connect', (client) => client.on('error', () => undefined));
  return pool;
}

function readInteger(text: string): number | string {
  const value = Number(text);
  return Number.isSafeInteger(value) ? value : text;
}

function readInstant(text: string): string {
  const instant = new Date(text.replace(' ', 'T').replace(/([+-]\d\d)$/, '$1:00'));
  // The driver's own text for the ends of time: `infinity`, `-infinity`, and years before Christ.
  return Number.isNaN(instant.getTime()) ? text : instant.toISOString();
}

function readAsIs(text: string): string {
  return text;
}

/** The driver's own reader of `text[]`, whose number its list of types leaves out. */
const textArrayId: number = 1009;
const readTextArray = pg.types.getTypeParser(textArrayId, 'text') as (text: string) => unknown;

type Nested = string | null | Nested[];

/** The driver takes the array apart into texts; each of those is then read by its own type. */
function arrayOf(parser: Parser): Parser {
  const readEntry = (entry: Nested): unknown =>
    Array.isArray(entry) ? entry.map(readEntry) : entry === null ? null : parser(entry);
  return (text) => readEntry(readTextArray(text) as Nested);
}
