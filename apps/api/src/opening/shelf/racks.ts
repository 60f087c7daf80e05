import type { OpeningProgress, RackProgress, ShelfProgress, ShelfState } from '@corewright/contracts/opening-stock';

/** A place as opening stock sees it. */
export interface PlaceFacts extends Omit<ShelfProgress, 'state' | 'since'> {
  parentId: string | null;
  kind: string;
  /** the last that was said of it; null where nobody has said anything */
  lastAct: 'begun' | 'done' | 'opened again' | null;
  actAt: string | null;
  /** rows that were keyed there, those struck out among them */
  rows: number;
}

type Counts = Omit<OpeningProgress, 'started' | 'racks'>;

/**
 * How far each rack is. A shelf is a place with none inside it, or one where something was keyed or said; it belongs to the nearest rack around it, else
 * to what it stands in, else to itself. In the order in which the places come.
 */
export function racksOf(places: readonly PlaceFacts[]): RackProgress[] {
  const byId = new Map(places.map((place) => [place.id, place]));
  const parents = new Set(places.map(({ parentId }) => parentId));
  const racks = new Map<string, { rack: PlaceFacts; shelves: ShelfProgress[] }>();
  for (const place of places) {
    if (parents.has(place.id) && place.lastAct === null && place.rows === 0) continue;
    const rack = rackAround(place, byId);
    const group = racks.get(rack.id) ?? { rack, shelves: [] };
    group.shelves.push(shelfShown(place));
    racks.set(rack.id, group);
  }
  return [...racks.values()].map(({ rack, shelves }) => {
    const counts = countsOf(shelves);
    return { id: rack.id, name: rack.path, state: stateOfAll(counts), ...counts, shelves };
  });
}

export function totalsOf(racks: readonly RackProgress[]): Counts {
  return countsOf(racks.flatMap(({ shelves }) => shelves));
}

function rackAround(place: PlaceFacts, byId: ReadonlyMap<string, PlaceFacts>): PlaceFacts {
  for (let at: PlaceFacts | undefined = place; at !== undefined; at = at.parentId === null ? undefined : byId.get(at.parentId))
    if (at.kind === 'rack') return at;
  return (place.parentId === null ? undefined : byId.get(place.parentId)) ?? place;
}

function shelfShown({ parentId: _parent, kind: _kind, lastAct, actAt, rows: _rows, ...shelf }: PlaceFacts): ShelfProgress {
  const state: ShelfState = lastAct === null ? 'not yet' : lastAct === 'done' ? 'done' : 'begun';
  return { ...shelf, state, since: state === 'done' ? actAt : null };
}

function countsOf(shelves: readonly ShelfProgress[]): Counts {
  const inState = (state: ShelfState) => shelves.filter((shelf) => shelf.state === state).length;
  const sum = (of: 'lying' | 'things' | 'toName' | 'asked' | 'notCosted') =>
    shelves.reduce((total, shelf) => total + shelf[of], 0);
  return {
    done: inState('done'),
    begun: inState('begun'),
    notYet: inState('not yet'),
    lying: sum('lying'),
    things: sum('things'),
    toName: sum('toName'),
    asked: sum('asked'),
    notCosted: sum('notCosted'),
  };
}

function stateOfAll({ done, begun, notYet }: Counts): ShelfState {
  if (begun === 0 && notYet === 0) return 'done';
  return begun === 0 && done === 0 ? 'not yet' : 'begun';
}
