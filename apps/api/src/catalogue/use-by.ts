import type { UseBy } from '@corewright/contracts/consumables';
import { addDays, earlierDate, formatPlainDate } from '@corewright/quantities/plain-date';

export interface UseByFacts {
  /** what the packet says; null where nobody has read one */
  packetUseBy: string | null;
  isOpen: boolean;
  /** null where it was found open and nobody knows since when */
  openedOn: string | null;
  /** once opened; null: as long as the packet says */
  keepsDays: number | null;
}

/**
 * The last day on which a container may be used: the earlier of what the packet says and the day of opening with so many days added. It is past from
 * the day after. Where it keeps for some days and nobody knows when it was opened, it counts as past. Pure.
 * @param today plain date
 */
export function useByOf({ packetUseBy, isOpen, openedOn, keepsDays }: UseByFacts, today: string): UseBy {
  if (isOpen && keepsDays !== null && openedOn === null)
    return {
      on: packetUseBy,
      past: true,
      words: `Nobody knows when it was opened, and it keeps ${sayDays(keepsDays)} once opened: it counts as past use-by.`,
    };
  const onceOpened = isOpen && keepsDays !== null && openedOn !== null ? addDays(openedOn, keepsDays) : null;
  const on = packetUseBy === null || onceOpened === null ? (packetUseBy ?? onceOpened) : earlierDate(packetUseBy, onceOpened);
  if (on === null)
    return { on, past: false, words: isOpen ? 'No use-by date is known, and opening sets none.' : 'No use-by date is known.' };
  const past = on < today;
  const because =
    on === onceOpened && openedOn !== null && keepsDays !== null
      ? `opened ${formatPlainDate(openedOn)}, and it keeps ${sayDays(keepsDays)} once opened`
      : 'by the packet';
  return { on, past, words: `${past ? 'Past use-by since' : 'Use by'} ${formatPlainDate(on)}: ${because}.` };
}

/** What a scan of an open container says: "open since 3 Nov 2026, use by 3 Dec 2026", or since when it is past that. Pure. */
export function sayOpen(facts: UseByFacts, today: string): string {
  const { on, past } = useByOf(facts, today);
  const since = facts.openedOn === null ? 'open, and nobody knows since when' : `open since ${formatPlainDate(facts.openedOn)}`;
  if (past)
    return on === null || on >= today
      ? `${since}: it counts as past its use-by`
      : `past its use-by since ${formatPlainDate(on)}; ${since}`;
  return on === null ? since : `${since}, use by ${formatPlainDate(on)}`;
}

/** Containers by the day up to which they may be used, the nearest first; without a day last, and then by the code. Pure. */
export function byUseBy(one: { useBy: UseBy; code: string }, other: { useBy: UseBy; code: string }): number {
  const [first, second] = [one, other].map(({ useBy, code }) => `${useBy.on ?? '9999-12-31'} ${code}`) as [string, string];
  return first < second ? -1 : first > second ? 1 : 0;
}

function sayDays(days: number): string {
  return days === 1 ? '1 day' : `${days} days`;
}
