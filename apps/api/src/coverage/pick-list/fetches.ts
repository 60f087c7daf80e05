import type { Coded } from '@corewright/contracts/base';
import type { CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import type { PartNamed } from '@corewright/contracts/relations';
import { type Decimal, decimalFrom } from '@corewright/quantities/decimal';
import type { UnitOfMeasure } from '@corewright/quantities/unit-of-measure';

/** So much of a thing in stores goes to a line. */
export interface Fetch {
  jobId: string;
  line: { lineId: string; lineNo: number };
  thing: Coded;
  part: PartNamed;
  inPlaceOf: PartNamed | null;
  unitOfMeasure: UnitOfMeasure;
  isReserved: boolean;
  quantity: Decimal;
  /** where it lies, in words */
  where: string;
}

/** What a job's lines are given of stock that lies in stores, and need no further word for. */
export function fetchesOf(jobId: string, lines: readonly CoveredLine[]): Fetch[] {
  return lines.flatMap((line) =>
    line.waived === null
      ? line.shares.flatMap((share): Fetch[] => {
          if (!isToFetch(share)) return [];
          return [
            {
              jobId,
              line: { lineId: line.id, lineNo: line.lineNo },
              thing: share.on,
              part: share.instead?.part ?? partAsked(line),
              inPlaceOf: share.instead === null ? null : partAsked(line),
              unitOfMeasure: line.part.unitOfMeasure as UnitOfMeasure,
              isReserved: share.state === 'reserved',
              quantity: decimalFrom(share.quantity),
              where: share.words,
            },
          ];
        })
      : [],
  );
}

function isInStores({ state, on }: CoverShare): boolean {
  return on !== null && (state === 'reserved' || state === 'free in stores');
}

export function isToFetch(share: CoverShare): share is CoverShare & { on: Coded } {
  return isInStores(share) && share.instead?.isAccepted !== false;
}

/** Another part in its place that nobody has accepted. */
export function isOffer(share: CoverShare): boolean {
  return isInStores(share) && share.instead?.isAccepted === false;
}

export function partAsked({ part }: CoveredLine): PartNamed {
  return { id: part.id, name: part.name, number: part.number, maker: '' };
}
