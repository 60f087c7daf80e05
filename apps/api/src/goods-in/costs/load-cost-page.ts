import type { CostRow, LoadCost, SharingShown } from '@corewright/contracts/costs';
import { changesOfShares, type Shares } from '@corewright/costing/share-cost';
import { decimalFrom } from '@corewright/quantities/decimal';
import { formatMoney, type Money } from '@corewright/quantities/money';
import type { Reader } from '../../platform/database/database.js';
import { decideSharing, linesInWords, lineThatBears, offersOf, type ToShare } from '../../stores/costs/decide-sharing.js';
import { sharesOfLoad } from '../../stores/costs/value-ledger.js';
import { compareFound } from './compare-found.js';

import {
  type ChangeRow,
  type PaidLoad,
  paidForLoad,
  type RowToBear,
  rowsToBear,
  type SaidRow,
  type SharingRow,
  saidOf,
  sharingsOf,
} from './load-cost.queries.js';
import { type CostOfLoad, costOfLoad } from './what-was-paid.js';

/** The cost of a load as it stands in the books: all that its page and its sharing rest on. */
export interface LoadCostState {
  load: PaidLoad;
  came: CostOfLoad;
  rows: RowToBear[];
  toShare: ToShare;
  /** by what was written */
  borne: Shares;
  sharings: SharingRow[];
  changes: ChangeRow[];
}

const wordsOfLoad = {
  costNotKnown: 'What was paid for it is not known, so there is nothing to share yet. Key the price first.',
  noRows: 'No row of this load bears a share yet. Key what came with it first.',
  stranger: 'A share is named for something that bears none: it was struck out, is a customer’s, or is no row of this load.',
};

/** Null where there is no such load. */
export async function loadCostState(reader: Reader, loadId: string): Promise<LoadCostState | null> {
  const load = await paidForLoad(reader, loadId);
  if (load === null) return null;
  const came = costOfLoad(load.paid, load.ours);
  const rows = await rowsToBear(reader, loadId);
  const toShare = { words: wordsOfLoad, cost: came.cost, currency: load.ours, rows: rows.filter(bears).map(lineThatBears) };
  return { load, came, rows, toShare, borne: await sharesOfLoad(reader, loadId), ...(await sharingsOf(reader, loadId)) };
}

/** The cost of a load as its screen shows it. */
export async function loadCostPage(reader: Reader, loadId: string): Promise<LoadCost | null> {
  const state = await loadCostState(reader, loadId);
  if (state === null) return null;
  const said = await saidOf(reader, loadId);
  const { load, came, rows, toShare } = state;
  const { paid, ours } = load;
  const shown = (amount: Money | null, currency: string) => (amount === null ? null : formatMoney(amount, currency));
  return {
    id: load.id,
    version: load.version,
    ours,
    paidIn: paid.currency,
    price: shown(paid.price, paid.currency),
    haulage: shown(paid.haulage, paid.currency),
    fees: shown(paid.fees, paid.currency),
    rate: paid.rate,
    paid: shown(came.paid, paid.currency),
    cost: shown(came.cost, ours),
    notKnown: came.notKnown,
    rows: rows.filter((row) => !row.struckOut || (state.borne.get(row.id) ?? 0n) !== 0n).map((row) => rowShown(row, state)),
    offers: offersOf(toShare),
    sharings: state.sharings.map((sharing) => sharingShown(sharing, state)),
    outOfDate: whyOutOfDate(state),
    said,
    found: said.length === 0 ? [] : compareFound(said.map(saidLine), rows.filter((row) => !row.struckOut).map(foundRow)),
  };
}

/** What was struck out never came, and a customer's goods are never valued as ours. */
function bears(row: RowToBear): boolean {
  return !row.struckOut && row.owner === null;
}

function rowShown(row: RowToBear, { load: { ours }, borne }: LoadCostState): CostRow {
  const share = borne.get(row.id);
  return {
    id: row.id,
    code: row.code,
    position: row.position,
    name: nameOf(row),
    quantity: row.quantity,
    bearsNone: row.struckOut ? 'struck out' : row.owner === null ? null : `${row.owner}’s`,
    worth: row.worth === null ? null : formatMoney(BigInt(row.worth) as Money, ours),
    weightKg: row.weightKg ?? row.typeWeightKg,
    weightByType: row.weightKg === null && row.typeWeightKg !== null,
    share: share === undefined ? null : formatMoney(share, ours),
    version: row.version,
  };
}

function nameOf(row: RowToBear): string {
  const further = row.kind === 'U' ? row.typeName : (row.number ?? '');
  return [row.name, further].filter((words) => words !== '').join(', ');
}

function sharingShown(sharing: SharingRow, { rows, changes }: LoadCostState): SharingShown {
  const rowOf = new Map(rows.map((row) => [row.id, row]));
  const { currency, cost, ...shown } = sharing;
  return {
    ...shown,
    cost: formatMoney(BigInt(cost) as Money, currency),
    changes: changes
      .filter((change) => change.sharingId === sharing.id)
      .flatMap(({ rowId, amount }) => {
        const row = rowOf.get(rowId);
        if (row === undefined) return [];
        return [
          {
            rowId,
            position: row.position,
            code: row.code,
            name: nameOf(row),
            amount: formatMoney(BigInt(amount) as Money, currency),
          },
        ];
      }),
  };
}

/** Why what was shared last is no longer what the load says. What was named by hand stands while cost and rows do. */
function whyOutOfDate({ load, came, rows, toShare, borne, sharings }: LoadCostState): string[] {
  const last = sharings[0];
  if (last === undefined) return [];
  const lines = (wanted: (row: RowToBear) => boolean) => linesInWords(rows.filter(wanted).map((row) => row.position));
  const reasons: string[] = [];
  const shared = `${formatMoney(BigInt(last.cost) as Money, last.currency)} ${last.currency}`;
  if (came.cost === null) reasons.push(`What it cost is not known any more; ${shared} was shared.`);
  else if (came.cost !== BigInt(last.cost))
    reasons.push(`It came to ${formatMoney(came.cost, load.ours)} ${load.ours} by now; ${shared} was shared.`);
  const isNew = (row: RowToBear) => bears(row) && !borne.has(row.id);
  const isGone = (row: RowToBear) => !bears(row) && (borne.get(row.id) ?? 0n) !== 0n;
  if (rows.some(isNew)) reasons.push(`Nothing is borne yet by ${lines(isNew)}, which came since.`);
  if (rows.some(isGone)) reasons.push(`A share is still borne by ${lines(isGone)}, which fell out since.`);
  if (reasons.length > 0 || last.way === 'by hand') return reasons;
  const now = decideSharing(toShare, last.way, new Map());
  if (!now.ok) return [now.error.detail];
  const moved = changesOfShares(borne, now.value);
  return moved.size === 0
    ? []
    : [`By ${wayWords[last.way]} as keyed now another share falls to ${lines((row) => moved.has(row.id))}.`];
}

const wayWords = {
  'relative value': 'the worths',
  weight: 'the weights',
  equally: 'the count of rows',
  'by hand': 'what was named',
};

function saidLine({ words, quantity, unitTypeId, partId }: SaidRow) {
  return { words, quantity, referenceId: unitTypeId ?? partId };
}

function foundRow(row: RowToBear) {
  return { words: nameOf(row), quantity: decimalFrom(row.quantity), referenceId: row.referenceId };
}
