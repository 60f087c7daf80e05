import { amountOf, entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { moneyEntriesBy } from '../stores/history/money-entries.js';

const buyer = `coalesce('to ' || nullif(concat_ws(', ', (SELECT firms.name FROM parties AS firms WHERE firms.id = buyer_id), nullif(buyer_words, '')), ''), 'to a buyer at the counter')`;
const linesSold = 'sale_lines JOIN sales ON sales.id = sale_id';
const linesBack = `sale_returns JOIN ${linesSold} ON sale_lines.id = sale_line_id`;

/** What was sold over the counter on which receipt, and what came back. */
const sold: HistorySource = {
  kind: 'sales',
  words: 'Sold and brought back',
  ofThings: entriesBy(`
    SELECT sale_lines.id, sales.recorded_at AS at, ${amountOf('quantity')} || ' sold, receipt ' || number AS title,
           concat_ws(', ', ${buyer}, 'let go: ' || nullif(let_go_why, '')) AS detail, person_id, thing_id
      FROM ${linesSold} WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT sale_returns.id, sale_returns.recorded_at, ${amountOf('sale_returns.quantity')} || ' brought back, receipt ' || number,
           concat_ws(', ', why, CASE WHEN fitted THEN 'it had been fitted' END), sale_returns.person_id, thing_id
      FROM ${linesBack} WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('sale_returns.id', 'new_lot_id')}, sale_returns.recorded_at, 'Came back from a buyer, receipt ' || number, concat_ws(', ', why, 'it had been fitted'), sale_returns.person_id, new_lot_id
      FROM ${linesBack} WHERE new_lot_id = ANY ($1::uuid[])`),
};

const prices: HistorySource = {
  kind: 'prices',
  words: 'What it was sold for',
  isForKeepers: true,
  ofThings: moneyEntriesBy(`
    SELECT ${entryId('sale_lines.id', "'price'")} AS id, sales.recorded_at AS at, 'Sold for ' || currency || ' ' || price_minor AS title,
           concat_ws(', ', ${amountOf('quantity')} || ' on receipt ' || number, nullif(paid_words, '')) AS detail, person_id, thing_id
      FROM ${linesSold} WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('sale_returns.id', "'given back'")}, sale_returns.recorded_at, 'Given back ' || currency || ' ' || given_back_minor,
           concat_ws(', ', ${amountOf('sale_returns.quantity')} || ' of receipt ' || number, nullif(money_words, '')), sale_returns.person_id, thing_id
      FROM ${linesBack} WHERE thing_id = ANY ($1::uuid[])`),
};

const keptOf = (column: 'thing_id' | 'part_id'): string => `
    SELECT id, kept_at AS at, 'Kept for our own jobs' AS title, reason AS detail, kept_by AS person_id, thing_id FROM kept_for_jobs WHERE ${column} = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('id', "'lifted'")}, lifted_at, 'May be sold again', lifted_why, lifted_by, thing_id FROM kept_for_jobs WHERE ${column} = ANY ($1::uuid[]) AND lifted_at IS NOT NULL`;

/** A thing, or a part, that is not sold before somebody lifts it. */
const keptForJobs: HistorySource = {
  kind: 'kept-for-jobs',
  words: 'Kept for our own jobs',
  ofThings: entriesBy(keptOf('thing_id')),
  ofPart: entriesBy(keptOf('part_id')),
};

export const sellingHistory: readonly HistorySource[] = [sold, keptForJobs, prices];
