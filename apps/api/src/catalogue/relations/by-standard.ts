import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { ServingWay } from '@corewright/contracts/build-standards';
import { addDecimals, type Decimal, decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { type Accepts, whyNotAccepted } from '../build-standards/accepts.js';
import type { FreeLot } from '../part-stock.js';
import { type Candidate, type Link, type Served, waysOf } from './what-may-serve.js';

/** What of all that may serve a build standard takes; the rest is refused by it. */
export function servedByStandard<L extends Link>({ candidates, refused }: Served<L>, ways: readonly ServingWay[]): Served<L> {
  const isTaken = ({ path }: Candidate<L>) => waysOf(path).every((way) => ways.includes(way));
  const declined = candidates.filter((candidate) => !isTaken(candidate));
  return {
    candidates: candidates.filter(isTaken),
    refused: [...declined.map(({ partId, path }) => ({ partId, path, why: 'not by this standard' as const })), ...refused],
  };
}

/** What of a part's free stock is accepted, and each lot that is not with why. */
export interface AcceptedStock {
  free: string;
  declined: string[];
}

export function acceptedStock(lots: readonly FreeLot[], accepts: Accepts): Map<string, AcceptedStock> {
  const sums = new Map<string, { free: Decimal; declined: string[] }>();
  for (const lot of lots) {
    const sum = sums.get(lot.partId) ?? { free: zero, declined: [] };
    sums.set(lot.partId, sum);
    const refused = whyNotAccepted(lot, accepts);
    const why = refused === null ? lot.storageStop : `the build standard ${refused}`;
    if (why === null) sum.free = addDecimals(sum.free, decimalFrom(lot.free));
    else sum.declined.push(`${formatCode(lot.code as LabelCode)}, ${lot.free}: ${why}.`);
  }
  return new Map([...sums].map(([partId, { free, declined }]) => [partId, { free: formatDecimal(free), declined }]));
}
