import type { JobCard } from '@corewright/contracts/jobs';
import {
  compareDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';

export type LineLeft = { readonly id: string; readonly name: string; readonly left: string; readonly critical: boolean };
export type NextOperation = {
  readonly number: number;
  readonly name: string;
  readonly linesIn: number;
  readonly lines: number;
  readonly left: readonly LineLeft[];
};

type CoveredLine = JobCard['coverage']['lines'][number];

/** How much of a line is neither fitted nor re-used yet. */
function leftOf(line: CoveredLine): Decimal {
  const inUnit = line.shares.filter((share) => share.state === 'fitted' || share.state === 're-used');
  return subtractDecimals(decimalFrom(line.needed), sumDecimals(inUnit.map((share) => decimalFrom(share.quantity))));
}

/** The first operation, in the order of its number, that has a line not yet in the unit; null when all are in. */
export function nextOperation(card: JobCard): NextOperation | null {
  const operations = [...card.operations].sort((a, b) => a.number - b.number);
  for (const operation of operations) {
    const lines = card.coverage.lines.filter((line) => line.operationId === operation.id && line.waived === null);
    const left = lines
      .map((line) => ({ id: line.id, name: line.part.name, quantity: leftOf(line), critical: line.critical }))
      .filter((line) => compareDecimals(line.quantity, zero) > 0)
      .map(({ quantity, ...line }) => ({ ...line, left: formatDecimal(quantity) }));
    if (left.length > 0)
      return { number: operation.number, name: operation.name, linesIn: lines.length - left.length, lines: lines.length, left };
  }
  return null;
}
