import type { AgedStanding } from '@corewright/contracts/shelf-life';
import { addMonths, type PlainDate } from '@corewright/quantities/plain-date';
import type { StorageLife } from '@corewright/standards/storage-life';

/** Long enough to use a lot up, or to order another. */
const monthsAhead = 6;

/** The last day that is soon. */
export function soonUntil(on: PlainDate): PlainDate {
  return addMonths(on, monthsAhead);
}

/** How a lot stands on a day; null where its age asks for nothing yet. */
export function standingOf(life: StorageLife, on: PlainDate): AgedStanding | null {
  switch (life.state) {
    case 'past':
    case 'extendable':
      return life.state;
    case 'unknown':
      return life.stopsFitting ? 'unknown date' : null;
    case 'in-life':
      return life.until !== null && life.until <= soonUntil(on) ? 'ends soon' : null;
    case 'no-limit':
      return null;
  }
}
