import type { AskingCell, ByPart, PartOnBoard, PartTrouble } from '@corewright/contracts/by-part';
import type { CoveredLine } from '@corewright/contracts/coverage';
import { type Decimal, decimalFrom, formatDecimal, sumDecimals, zero } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import type { WantingJob } from '../coverage-facts.js';
import { grouped } from '../grouped.js';
import type { SharedOut } from '../share-out.js';
import { type Asking, expectedOf } from '../sources.js';
import { whyLotMayNotServe } from '../why-lot-may-not-serve.js';

interface Asked {
  asking: Asking;
  covered: CoveredLine;
}

/** The parts that open lines lack, or that jobs stand in each other's way for, or that rest on what may fail; with all lines that ask for them. */
export function boardOf(shared: SharedOut, cover: ReadonlyMap<string, readonly CoveredLine[]>): ByPart {
  const covered = new Map([...cover.values()].flat().map((line) => [line.id, line]));
  const asked = shared.asking.flatMap((asking): Asked[] => {
    const line = covered.get(asking.line.id);
    return line === undefined || asking.open <= zero ? [] : [{ asking, covered: line }];
  });
  const parts = [...grouped(asked, ({ asking }) => asking.line.partId).values()]
    .map((lines) => partOnBoard(lines, shared))
    .filter(({ troubles }) => troubles.length > 0)
    .toSorted(worstFirst);
  const shown = new Set(parts.flatMap(({ cells }) => cells.map(({ jobId }) => jobId)));
  const jobs = shared.facts.jobs.map((job, index) => jobOnBoard(job, index + 1)).filter(({ id }) => shown.has(id));
  return { openJobs: shared.facts.jobs.length, jobs, parts };
}

function jobOnBoard({ id, code, title, priority, dateGiven }: WantingJob, place: number): ByPart['jobs'][number] {
  return { id, code, name: title, place, priority, dateGiven };
}

function partOnBoard(asked: readonly Asked[], shared: SharedOut): PartOnBoard {
  const cells = asked
    .toSorted((one, other) => one.asking.rank - other.asking.rank || one.asking.line.lineNo - other.asking.line.lineNo)
    .map((each) => cellOf(each, shared.facts.today));
  const part = (asked[0] as Asked).covered.part;
  return { part, troubles: troublesOf(cells), there: thereIs(part.id, asked, shared), cells };
}

function cellOf({ asking: { job }, covered }: Asked, today: string): AskingCell {
  const { id, lineNo, needed, critical, stops, state, shares, elsewhere } = covered;
  return {
    jobId: job.id,
    lineId: id,
    lineNo,
    needed,
    critical,
    stops,
    state,
    shares: shares.map((share) => ({ state: share.state, quantity: share.quantity })),
    elsewhere,
    late: lateWords(covered, job, today),
  };
}

function lateWords({ shares }: CoveredLine, { dateGiven }: WantingJob, today: string): string {
  const days = shares.flatMap(({ state, dueOn }) => (state === 'on order' && dueOn !== null ? [dueOn] : []));
  const overdue = days.find((day) => day < today);
  if (overdue !== undefined) return `the order was due ${formatPlainDate(overdue)}`;
  const last = days.toSorted().at(-1);
  if (last === undefined || dateGiven === null || last <= dateGiven) return '';
  return `the order is due ${formatPlainDate(last)}, after the ${formatPlainDate(dateGiven)} that the customer was told`;
}

function troublesOf(cells: readonly AskingCell[]): PartTrouble[] {
  const hasState = (state: AskingCell['state']) => cells.some(({ shares }) => shares.some((share) => share.state === state));
  return [
    ...(hasState('lacking') ? ['lacking' as const] : []),
    ...(cells.some(({ elsewhere }) => elsewhere.length > 0) ? ['wanted by several' as const] : []),
    ...(cells.some(({ late }) => late !== '') ? ['order late' as const] : []),
    ...(hasState('from a core') ? ['rests on a core' as const] : []),
  ];
}

/** What there is of a part: of its lots those that may serve one of these lines. */
function thereIs(partId: string, asked: readonly Asked[], { index, facts }: SharedOut): PartOnBoard['there'] {
  const lotsOf = (id: string) =>
    (index.stock.get(id) ?? []).filter((lot) => asked.some(({ asking }) => mayGoTo(lot, asking, facts.today)));
  const beside = new Set(asked.flatMap(({ asking }) => asking.offers.map((offer) => offer.partId)));
  beside.delete(partId);
  const lots = lotsOf(partId);
  return {
    free: total(lots.map(({ free }) => decimalFrom(free))),
    promised: total(lots.map(({ claimed }) => decimalFrom(claimed))),
    coming: total((index.receipts.get(partId) ?? []).map(({ outstanding }) => decimalFrom(outstanding))),
    inCores: total((index.donors.get(partId) ?? []).map(expectedOf)),
    beside: total([...beside].flatMap((id) => lotsOf(id).map(({ free }) => decimalFrom(free)))),
  };
}

function mayGoTo(lot: SharedOut['facts']['stock'][number], { line, job }: Asking, today: string): boolean {
  return (lot.ownerId === null || lot.ownerId === job.customerId) && whyLotMayNotServe(lot, line, today) === null;
}

function total(quantities: readonly Decimal[]): string {
  return formatDecimal(sumDecimals(quantities));
}

/** What stops a job, then what is lacking, then by how many jobs it is wanted, then by its number. */
function worstFirst(one: PartOnBoard, other: PartOnBoard): number {
  const count = ({ cells }: PartOnBoard, is: (cell: AskingCell) => boolean) => cells.filter(is).length;
  return (
    count(other, ({ stops }) => stops) - count(one, ({ stops }) => stops) ||
    count(other, ({ state }) => state === 'lacking') - count(one, ({ state }) => state === 'lacking') ||
    count(other, ({ elsewhere }) => elsewhere.length > 0) - count(one, ({ elsewhere }) => elsewhere.length > 0) ||
    other.cells.length - one.cells.length ||
    one.part.number.localeCompare(other.part.number, 'en') ||
    (one.part.id < other.part.id ? -1 : 1)
  );
}
