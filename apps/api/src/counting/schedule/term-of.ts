import type { CountSettings } from '@corewright/contracts/counting';
import { daysOf } from './settings.js';

interface PlaceInTree {
  id: string;
  kind: string;
  parentId: string | null;
  path: string;
}

/** How often a place is counted: by its own term, else by that of the nearest place around it, else by that of its kind, else as usual. */
export function termOf(
  place: PlaceInTree,
  all: readonly PlaceInTree[],
  { terms, usualDays }: Pick<CountSettings, 'terms' | 'usualDays'>,
): { days: number; words: string } {
  const byId = new Map(all.map((each) => [each.id, each]));
  let around: PlaceInTree | undefined = place;
  while (around !== undefined) {
    const { id, path }: PlaceInTree = around;
    const own = terms.find(({ placeId }) => placeId === id);
    if (own !== undefined)
      return { days: own.days, words: `${id === place.id ? 'this place' : `all of ${path}`}: every ${daysOf(own.days)}` };
    around = around.parentId === null ? undefined : byId.get(around.parentId);
  }
  const ofKind = terms.find(({ placeKind }) => placeKind === place.kind);
  if (ofKind !== undefined) return { days: ofKind.days, words: `every ${place.kind}: every ${daysOf(ofKind.days)}` };
  return { days: usualDays, words: `every place: every ${daysOf(usualDays)}` };
}
