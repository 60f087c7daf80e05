import { PlaceList, type PlacesQuery } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { asProblem } from '../../../api/problem.js';
import { placesRemembered } from '../../../scan/resolve.js';
import type { ComboFound, ComboOption } from '../../../ui/combo-options.js';

type Kinds = z.output<typeof PlacesQuery>['kinds'];

/** Open places into which goods may be put, by words of their way, nickname or code. */
export const findPlaces = (typed: string, signal: AbortSignal): Promise<ComboFound> => placesFor(typed, 'no trays', signal);

/** The same, and the kit trays of jobs among them. */
export const findAnyPlaces = (typed: string, signal: AbortSignal): Promise<ComboFound> => placesFor(typed, 'all', signal);

async function placesFor(typed: string, kinds: Kinds, signal: AbortSignal): Promise<ComboFound> {
  const asked = new URLSearchParams({ q: typed.trim().slice(0, 100), kinds });
  try {
    const { places, hasMore } = await api.get(PlaceList, `/api/places?${asked}`, { signal });
    return { options: places.map(({ id, path, name, kind }) => ({ id, label: path, note: kind, also: name })), hasMore };
  } catch (thrown) {
    const seen = asProblem(thrown).code === 'no-answer' ? placesSeen(typed, kinds) : [];
    if (seen.length === 0) throw thrown;
    return { options: seen, hasMore: false };
  }
}

/** Of the places that this device has scanned, those with every word that was keyed. */
function placesSeen(typed: string, kinds: Kinds): readonly ComboOption[] {
  const words = typed.toLowerCase().split(/[\s,/]+/);
  return placesRemembered()
    .filter(({ detail }) => kinds === 'all' || detail !== 'tray')
    .filter(({ where, code }) => words.every((word) => `${where} ${code}`.toLowerCase().includes(word)))
    .map(({ id, where, name }) => ({ id, label: where, note: 'scanned here before; no network now', also: name }));
}
