import { TakenBack } from '@corewright/contracts/bench';
import { type CarryPlace, ContentsMoved, type EditPlace, PlaceCarried, PlacePage } from '@corewright/contracts/places';
import { type AddPlace, PlaceBrief } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

interface Versioned {
  readonly id: string;
  readonly version: number;
}

const tag = (version: number) => `"${version}"`;

export function useAddPlace(onDone: (place: PlaceBrief) => void) {
  return useStoresChange(onDone, (place: z.input<typeof AddPlace>) =>
    api.send(PlaceBrief, 'POST', '/api/places', place, { key: newKey() }),
  );
}

/** What a place is called and what it is, keyed over the version that was seen. */
export function useEditPlace({ id, version }: Versioned, onDone: () => void) {
  return useStoresChange(onDone, (edited: EditPlace) =>
    api.send(PlacePage, 'PATCH', `/api/places/${id}`, edited, { key: newKey(), ifMatch: tag(version) }),
  );
}

export function useCarryPlace({ id, version }: Versioned, onDone: (carried: PlaceCarried) => void) {
  return useStoresChange(onDone, (to: CarryPlace) =>
    api.send(PlaceCarried, 'POST', `/api/places/${id}/carrying`, to, { key: newKey(), ifMatch: tag(version) }),
  );
}

/** Back to where it stood, whoever has changed it since. */
export function useCarryBack(placeId: string, onDone: () => void) {
  return useStoresChange(onDone, (to: CarryPlace) =>
    api.send(PlaceCarried, 'POST', `/api/places/${placeId}/carrying`, to, { key: newKey() }),
  );
}

export function useClosing({ id, version }: Versioned, onDone: () => void) {
  return useStoresChange(onDone, (closes: boolean) =>
    api.send(
      PlacePage,
      'POST',
      `/api/places/${id}/${closes ? 'closing' : 'opening'}`,
      {},
      { key: newKey(), ifMatch: tag(version) },
    ),
  );
}

export function useMoveContents(fromPlaceId: string, onDone: (moved: ContentsMoved) => void) {
  return useStoresChange(onDone, (toPlaceId: string) =>
    api.send(ContentsMoved, 'POST', '/api/contents-moves', { fromPlaceId, toPlaceId }, { key: newKey() }),
  );
}

export function usePutBack(onDone: () => void) {
  return useStoresChange(onDone, (actId: string) =>
    api.send(TakenBack, 'POST', `/api/acts/${actId}/take-back`, { why: 'moved by mistake' }, { key: newKey() }),
  );
}
