import { decimalFrom } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { formatQuantity } from '@corewright/quantities/unit-of-measure';
import { spoken } from '../../jobs/job.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { saleOf } from '../sale.queries.js';

/** A line of the receipt: what it is on the left, with small print below, and an amount on the right. */
export interface ReceiptRow {
  words: string;
  small: readonly string[];
  amount: string;
}

/** Everything that a receipt says, in the order in which it says it. */
export interface ReceiptText {
  number: number;
  seller: string;
  address: readonly string[];
  title: string;
  facts: readonly string[];
  rows: readonly ReceiptRow[];
  total: ReceiptRow;
  /** what came back since; empty for most */
  takenBack: readonly ReceiptRow[];
  foot: readonly string[];
}

const caution =
  'Driveline parts bear on safety on the road. Have them fitted and checked by somebody qualified, by the maker’s manual and the rules that hold where they are used.';

interface PaperRow extends Record<string, unknown> {
  seller: string;
  address: string;
  taxWords: string;
  footWords: string;
}

/** As it was written that day, whatever the settings say by now. */
const selectPaper = `
  SELECT seller_name AS seller, seller_address AS address, tax_words AS "taxWords", foot_words AS "footWords" FROM sales WHERE id = $1`;

/** Null where there is no such sale. */
export async function receiptText(reader: Reader, saleId: string): Promise<ReceiptText | null> {
  const [sale, paper] = await Promise.all([saleOf(reader, saleId), reader.row<PaperRow>(selectPaper, [saleId])]);
  if (sale === null || paper === null) return null;
  const { number, on, buyer, paid, note, currency, total, by, lines } = sale;
  const returns = lines.flatMap((line) => line.returns.map((each) => ({ line, each })));
  return {
    number,
    seller: paper.seller,
    address: linesOf(paper.address),
    title: `Receipt ${number}`,
    facts: [
      formatPlainDate(on),
      buyer === '' ? '' : `Sold to ${buyer}`,
      paid === '' ? '' : `Paid: ${paid}`,
      `Sold by ${by}`,
      note,
    ].filter((each) => each !== ''),
    rows: lines.map(({ words, said, thing, quantity, unitOfMeasure, price, letGo }) => ({
      words: `${formatQuantity(decimalFrom(quantity), unitOfMeasure)} × ${words}`,
      small: [spoken(thing.code), said, letGo === null ? '' : `let go by ${letGo.by}`].filter((each) => each !== ''),
      amount: price,
    })),
    total: { words: 'Total', small: [], amount: `${currency} ${total}` },
    takenBack: returns.map(({ line, each }) => ({
      words: `Taken back ${formatPlainDate(each.on)}: ${formatQuantity(decimalFrom(each.quantity), line.unitOfMeasure)} × ${line.words}`,
      small: [each.why, each.money, each.fitted ? 'it was fitted meanwhile' : ''].filter((words) => words !== ''),
      amount: `-${each.givenBack}`,
    })),
    foot: [...linesOf(paper.taxWords), ...linesOf(paper.footWords), caution],
  };
}

function linesOf(text: string): string[] {
  return text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}
