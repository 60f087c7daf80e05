import type { JobState } from '@corewright/contracts/base';
import type { CoveredLine } from '@corewright/contracts/coverage';
import type { CountedOn, ToReserve } from '@corewright/contracts/to-reserve';
import type { CoverOfAll } from '../workshop-cover.js';

/** The lines that count on something that nobody has reserved. */
export function linesToReserve({ lines }: CoverOfAll): CoveredLine[] {
  return [...lines.values()].flat().filter(({ shares }) => shares.some(({ canReserve }) => canReserve));
}

/**
 * What jobs count on and have not reserved, in the order in which they are served; jobs that have nothing to reserve are left out.
 * @param counting the lines of `linesToReserve`, with the places of what they count on
 */
export function toReserve({ jobs, lines }: CoverOfAll, counting: readonly CoveredLine[]): ToReserve {
  const byId = new Map(counting.map((line) => [line.id, line]));
  const suggested = jobs.map(({ id, code, title, state }) => ({
    job: { id, code, name: title },
    state: state as JobState,
    counted: (lines.get(id) ?? []).flatMap((line) => countedOn(byId.get(line.id))),
  }));
  return { jobs: suggested.filter(({ counted }) => counted.length > 0) };
}

function countedOn(line: CoveredLine | undefined): CountedOn[] {
  if (line === undefined) return [];
  const { id, lineNo, part, critical, shares } = line;
  return shares
    .filter(({ canReserve }) => canReserve)
    .map(({ quantity, on, receiptId, words }) => ({
      lineId: id,
      lineNo,
      name: part.name,
      number: part.number,
      unitOfMeasure: part.unitOfMeasure,
      critical,
      quantity,
      thing: on,
      receiptId,
      words,
    }));
}
