import type { Shares } from '@corewright/costing/share-cost';
import { addMoney, type Money, noMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { oursOf } from '../../../people/workshop.js';
import type { Reader } from '../../../platform/database/database.js';
import { UnitJobs } from '../../later-names.js';
import { lineThatBears, type ToShare } from '../decide-sharing.js';
import { boreOf, passedFrom } from '../value-ledger.js';
import { type PartRow, type PassedChange, type PassingRow, partsOfWhole, passingsOf } from './parts-of-whole.queries.js';

/** A part with the line on which it stands and why it bears none of the cost; null where it bears a share. */
export interface PartThatMayBear extends PartRow {
  position: number;
  bearsNone: string | null;
}

/** The cost of a unit or a box as it stands in the books: all that its page and its passing on rest on. */
export interface PassedOnState {
  whole: PartRow;
  ours: string;
  /** what it bore before it passed anything on; null where nobody knows */
  bore: Money | null;
  /** why nothing can be passed on; null where it can */
  cannot: string | null;
  parts: PartThatMayBear[];
  toShare: ToShare;
  /** what each bears by what was written; the whole what it kept */
  borne: Shares;
  passings: PassingRow[];
  changes: PassedChange[];
}

const wordsOfWhole = {
  costNotKnown:
    'Nobody knows what it cost, and that is not nought. Share the cost of the load that it came with, then pass it on.',
  noRows: 'Nothing bears a share of it: all of it was scrapped or put back.',
  stranger: 'A share is named for something that bears none: it was scrapped, was put back, or never came out of this.',
};

@Injectable()
export class PassedOnStates {
  constructor(private readonly jobs: UnitJobs) {}

  /** Null for what nothing comes out of. */
  async of(reader: Reader, wholeId: string): Promise<PassedOnState | null> {
    const rows = await partsOfWhole(reader, wholeId);
    const whole = rows.find((row) => row.id === wholeId);
    if (whole === undefined || (whole.kind !== 'U' && whole.kind !== 'X')) return null;
    const [ours, bore, passed, job] = [
      await oursOf(reader),
      await boreOf(reader, wholeId),
      await passedFrom(reader, wholeId),
      await this.jobs.nameOf(reader, wholeId),
    ];
    const parts = rows.map((row, index) => ({ ...row, position: index + 1, bearsNone: whyNone(row, whole, job !== null) }));
    const kept = addMoney(bore ?? noMoney, passed.get(wholeId) ?? noMoney);
    const borne = new Map(passed).set(wholeId, kept);
    const toShare = { words: wordsOfWhole, cost: bore, currency: ours, rows: parts.filter(bears).map(lineThatBears) };
    return { whole, ours, bore, cannot: cannotOf(whole, bore), parts, toShare, borne, ...(await passingsOf(reader, wholeId)) };
  }
}

export function bears({ bearsNone }: PartThatMayBear): boolean {
  return bearsNone === null;
}

function cannotOf({ owner }: PartRow, bore: Money | null): string | null {
  if (owner !== null) return `It is ${owner}’s, so it is no cost of ours.`;
  return bore === null ? wordsOfWhole.costNotKnown : null;
}

/** What is scrapped carries nothing. What was fitted, sold or lost since carries its share: it went with it. */
function whyNone(row: PartRow, whole: PartRow, isOnJob: boolean): string | null {
  if (row.id === whole.id) return row.saidEmpty ? 'empty' : row.scrapped ? 'scrapped' : null;
  if (row.putBack) return 'put back';
  if (row.scrapped) return 'scrapped';
  if (row.backInUnit) return 'in its unit again';
  // a unit that is being rebuilt keeps what its own parts cost: only what goes to stores takes a share away
  if (row.kind === 'C' && isOnJob) return 'stays with its unit';
  return null;
}
