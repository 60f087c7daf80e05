import type { CountLine, DecideCountLine } from '@corewright/contracts/counting';
import type * as z from 'zod';

export type DecisionKeyed = z.input<typeof DecideCountLine>;

/** A decision on a line as it is seen. @param index which of the numbers that may be taken as counted */
export function decisionOn(line: CountLine, decision: CountLine['offered'][number], index = 0): DecisionKeyed {
  const taken = line.counts[index];
  return {
    placeId: line.place.id,
    thingId: line.thing.id,
    decision,
    ...(taken === undefined ? {} : { counted: taken.quantity, books: taken.books }),
    ...(decision === 'move' ? { fromPlaceId: line.elsewhere[0]?.placeId ?? null } : {}),
  };
}

/** The first choice of a line where it needs nothing more from a person; null where it does. */
export function proposalOf(line: CountLine): DecisionKeyed | null {
  const [first] = line.offered;
  if (first === undefined || first === 'again' || first === 'leave') return null;
  if (line.typed || line.counts.length !== 1 || (first === 'move' && line.elsewhere.length !== 1)) return null;
  return decisionOn(line, first);
}
