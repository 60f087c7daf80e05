import type { JobState } from '@corewright/contracts/base';
import type { CoveredLine } from '@corewright/contracts/coverage';
import type { CountedOn, ToReserve } from '@corewright/contracts/to-reserve';
import type { CoverOfAll } from '../workshop-cover.js';

/** What every job counts on and has not reserved; jobs that have nothing to reserve are left out. */
export function toReserve({ jobs, lines }: CoverOfAll): ToReserve {
  const suggested = jobs.map(({ id, code, title, state }) => ({
    job: { id, code, name: title },
    state: state as JobState,
    counted: (lines.get(id) ?? []).flatMap(countedOn),
  }));
  return { jobs: suggested.filter(({ counted }) => counted.length > 0) };
}

function countedOn({ id, lineNo, part, critical, shares }: CoveredLine): CountedOn[] {
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
