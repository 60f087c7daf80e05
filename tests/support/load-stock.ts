import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Answer, Visitor } from './bare-server.js';
import type { Stock } from './stock.js';

/** What the tests of goods-in, stores and labels key into rows, and a unit type to key. */

export interface RowShown {
  id: string;
  code: string;
  version: number;
  position: number;
  quantity: string;
  name: string;
  place: { id: string; path: string } | null;
  part: { number: string } | null;
  maker: string | null;
  packet: { asRead: string; precision: string; earliest: string | null } | null;
  storageLife: { state: string; sentence: string } | null;
  owner: { name: string } | null;
  grade: string;
  struckOut: boolean;
  labelled: boolean;
  pictures: { id: string }[];
  warnings: { kind: string; words: string; other: { code: string } | null }[];
}

export const unitRow = (fields: Record<string, unknown> = {}) => ({
  kind: 'unit',
  position: 1,
  unitTypeId: null,
  words: 'worm axle, drum brakes',
  ...fields,
});

export const lotRow = (partId: string | null, fields: Record<string, unknown> = {}) => ({
  kind: 'lot',
  position: 1,
  partId,
  quantity: '4',
  source: 'old stock',
  make: 'genuine',
  ...fields,
});

export const unsortedRow = (fields: Record<string, unknown> = {}) => ({
  kind: 'unsorted',
  position: 1,
  words: 'tobacco tin: shims, lock tabs, two keys',
  pieceCount: 40,
  ...fields,
});

export interface LoadShown {
  id: string;
  number: number;
  rowCount: number;
  unlabelled: number;
  rows: RowShown[];
}

export async function openLoad(visitor: Visitor, words = 'dispersal at Netherstrake Farm'): Promise<LoadShown> {
  const load = await visitor.post<LoadShown>('/api/loads', {
    id: newId(),
    words,
    sellerName: 'Dray & Tolliver, sale rooms',
    boughtOn: '2026-11-21',
  });
  if (load.status !== 200) throw new Error(`The load was refused: ${JSON.stringify(load.body)}`);
  return load.body;
}

/** Keys a new row. */
export function keyRow(visitor: Visitor, loadId: string, row: Record<string, unknown>, id = newId()): Promise<Answer<RowShown>> {
  return visitor.put<RowShown>(`/api/loads/${loadId}/rows/${id}`, row);
}

/** A worm axle of an invented maker, with nine components. */
export async function unitType(
  stock: Stock,
  fields: { maker?: string; model?: string; weightKg?: string } = {},
): Promise<string> {
  const [makerId, id] = [newId(), newId()];
  await stock.query('INSERT INTO makers (id, name) VALUES ($1, $2)', [makerId, fields.maker ?? 'Brantock']);
  await stock.query(
    `INSERT INTO unit_types (id, reference, maker_id, kind, model, ratio, recognise_by, weight_kg)
     VALUES ($1, $2, $3, 'overhead-worm axle', $4, '7¾ : 1', 'worm above the wheel', $5)`,
    [id, `T${id}`, makerId, fields.model ?? 'WD7', fields.weightKg ?? '186'],
  );
  await stock.query(
    `INSERT INTO unit_type_components (unit_type_id, position, name, quantity) SELECT $1, position, 'component ' || position, 1 FROM generate_series(1, 9) AS position`,
    [id],
  );
  return id;
}

/** The balance of a thing at the seller and what its movements say, for the conservation that every test can ask for. */
export async function balancesOf(stock: Stock, thingId: string): Promise<Record<string, string>> {
  const rows = await stock.query<{ kind: string; quantity: string }>(
    `SELECT holders.kind, trim_scale(sum(quantity))::text AS quantity FROM balances JOIN holders ON holders.id = holder_id
      WHERE thing_id = $1 AND quantity <> 0 GROUP BY holders.kind`,
    [thingId],
  );
  return Object.fromEntries(rows.map((row) => [row.kind, row.quantity]));
}
