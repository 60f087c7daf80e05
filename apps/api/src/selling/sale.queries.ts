import type { Coded } from '@corewright/contracts/base';
import type { Sale, SaleBrief, SaleLine, SaleList, SalesQuery } from '@corewright/contracts/selling';
import { formatMoney, type Money } from '@corewright/quantities/money';
import type { Reader } from '../platform/database/database.js';
import { cursorOf, placeOf } from '../platform/http/next-page.js';
import { codeOf, thingFacts, thingName } from '../stores/place-words.js';

interface SaleRow extends Record<string, unknown> {
  id: string;
  number: number;
  on: string;
  at: string;
  firmId: string | null;
  firmName: string | null;
  buyerWords: string;
  paid: string;
  note: string;
  currency: string;
  total: string;
  givenBack: string;
  lineCount: number;
  /** of how many lines nothing, or all, came back */
  untouched: number;
  allBack: number;
  firstWords: string;
  by: string;
}

const backOf = '(SELECT coalesce(sum(quantity), 0) FROM sale_returns WHERE sale_line_id = sale_lines.id)';
const columns = `
  SELECT sales.id, number, sold_on AS on, sales.recorded_at AS at, firms.id AS "firmId", firms.name AS "firmName", buyer_words AS "buyerWords",
         paid_words AS paid, sales.note, currency, total_minor::text AS total, people.display_name AS by, lines.*
    FROM sales JOIN people ON people.id = sales.person_id LEFT JOIN parties AS firms ON firms.id = buyer_id
    JOIN LATERAL (
      SELECT count(*)::integer AS "lineCount", count(*) FILTER (WHERE ${backOf} = 0)::integer AS untouched,
             count(*) FILTER (WHERE ${backOf} = quantity)::integer AS "allBack", (array_agg(words ORDER BY line_no))[1] AS "firstWords",
             coalesce(sum((SELECT sum(given_back_minor) FROM sale_returns WHERE sale_line_id = sale_lines.id)), 0)::text AS "givenBack"
        FROM sale_lines WHERE sale_id = sales.id) AS lines ON true`;
const pageSize = 50;
const selectPage = `
  ${columns} WHERE ($1::integer IS NULL OR number < $1) AND ($2::date IS NULL OR sold_on >= $2) AND ($3::date IS NULL OR sold_on <= $3)
  ORDER BY number DESC LIMIT ${pageSize + 1}`;
const selectOne = `${columns} WHERE sales.id = $1`;

/** Receipts, the newest first. */
export async function salesPage(reader: Reader, { cursor, from, to }: SalesQuery): Promise<SaleList> {
  const after = placeOf(cursor, ['number'])?.[0] ?? null;
  const rows = await reader.rows<SaleRow>(selectPage, [after, from ?? null, to ?? null]);
  const shown = rows.slice(0, pageSize);
  const last = shown.at(-1);
  return { sales: shown.map(briefOf), cursor: rows.length > pageSize && last ? cursorOf([last.number]) : null };
}

function briefOf(row: SaleRow): SaleBrief {
  const { id, number, on, currency, lineCount, firstWords, by } = row;
  return {
    id,
    number,
    on,
    buyer: [row.firmName ?? '', row.buyerWords].filter((each) => each !== '').join(', '),
    currency,
    total: moneyOf(row.total, currency),
    givenBack: moneyOf(row.givenBack, currency),
    takenBack: row.untouched === lineCount ? 'no' : row.allBack === lineCount ? 'all' : 'in part',
    words: lineCount === 1 ? firstWords : `${firstWords}, and ${lineCount - 1} more`,
    by,
  };
}

/** Null where there is no such sale. */
export async function saleOf(reader: Reader, id: string): Promise<Sale | null> {
  const row = await reader.row<SaleRow>(selectOne, [id]);
  if (row === null) return null;
  const lines = await linesOf(reader, id, row.currency);
  const firm = row.firmId === null ? null : { id: row.firmId, name: row.firmName ?? '' };
  return { ...briefOf(row), firm, paid: row.paid, note: row.note, at: row.at, lines };
}

interface LineRow extends Record<string, unknown> {
  id: string;
  lineNo: number;
  thing: Coded;
  quantity: string;
  unitOfMeasure: SaleLine['unitOfMeasure'];
  words: string;
  said: string;
  price: string;
  letGoBy: string | null;
  letGoWhy: string;
}
interface ReturnRow extends Record<string, unknown> {
  lineId: string;
  id: string;
  quantity: string;
  on: string;
  why: string;
  money: string;
  givenBack: string;
  fitted: boolean;
  newLot: Coded | null;
  by: string;
}

const selectLines = `
  SELECT sale_lines.id, line_no AS "lineNo", json_build_object('id', things.id, 'code', ${codeOf('things.id')}, 'name', ${thingName}) AS thing,
         trim_scale(quantity)::text AS quantity, sale_lines.unit_of_measure AS "unitOfMeasure", sale_lines.words, said, price_minor::text AS price,
         letters.display_name AS "letGoBy", let_go_why AS "letGoWhy"
    FROM sale_lines JOIN things ON things.id = thing_id ${thingFacts} LEFT JOIN people AS letters ON letters.id = let_go_by
   WHERE sale_id = $1 ORDER BY line_no`;
const selectReturns = `
  SELECT sale_line_id AS "lineId", sale_returns.id, trim_scale(sale_returns.quantity)::text AS quantity, returned_on AS on, why, money_words AS money,
         given_back_minor::text AS "givenBack", fitted,
         CASE WHEN new_lot_id IS NOT NULL THEN json_build_object('id', new_lot_id, 'code', ${codeOf('new_lot_id')}, 'name', sale_lines.words) END AS "newLot",
         people.display_name AS by
    FROM sale_returns JOIN sale_lines ON sale_lines.id = sale_line_id JOIN people ON people.id = sale_returns.person_id
   WHERE sale_id = $1 ORDER BY sale_returns.sequence`;

async function linesOf(reader: Reader, saleId: string, currency: string): Promise<SaleLine[]> {
  const [lines, returns] = await Promise.all([
    reader.rows<LineRow>(selectLines, [saleId]),
    reader.rows<ReturnRow>(selectReturns, [saleId]),
  ]);
  return lines.map(({ letGoBy, letGoWhy, price, ...line }) => ({
    ...line,
    price: moneyOf(price, currency),
    letGo: letGoBy === null ? null : { by: letGoBy, why: letGoWhy },
    returns: returns
      .filter(({ lineId }) => lineId === line.id)
      .map(({ lineId: _line, givenBack, ...each }) => ({ ...each, givenBack: moneyOf(givenBack, currency) })),
  }));
}

function moneyOf(minor: string, currency: string): string {
  return formatMoney(BigInt(minor) as Money, currency);
}
