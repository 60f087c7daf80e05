import {
  type AddFoundProperty,
  type AddKeptNote,
  type ChangeOwner,
  type Condemn,
  type DisposeOf,
  type EndKept,
  type HoldOn,
  type HoldPlace,
  type KeepForOwner,
  KeptForOwner,
  PlaceHeld,
} from '@corewright/contracts/goods-apart';
import { type HoldBack, Thing } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** The version of a thing that was seen: what somebody else changed meanwhile is not overwritten. */
interface Seen {
  readonly id: string;
  readonly version: number;
}

/** A change of one thing by an act of its own. */
function useThingAct<Keyed>({ id, version }: Seen, act: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: Keyed) =>
    api.send(Thing, 'POST', `/api/things/${id}/${act}`, keyed, { key: newKey(), ifMatch: `"${version}"` }),
  );
}

export const useHold = (thing: Seen, onDone: () => void) => useThingAct<z.input<typeof HoldBack>>(thing, 'hold', onDone);
export const useLift = (thing: Seen, onDone: () => void) => useThingAct<{ reason: string }>(thing, 'hold-lift', onDone);
export const useHoldOn = (thing: Seen, onDone: () => void) => useThingAct<HoldOn>(thing, 'hold-on', onDone);
export const useCondemn = (thing: Seen, onDone: () => void) =>
  useThingAct<z.input<typeof Condemn>>(thing, 'condemnation', onDone);
export const useDisposal = (thing: Seen, onDone: () => void) => useThingAct<z.input<typeof DisposeOf>>(thing, 'disposal', onDone);
export const useOwnerChange = (thing: Seen, onDone: () => void) =>
  useThingAct<z.input<typeof ChangeOwner>>(thing, 'owner', onDone);

/** Holds back all that lies in a place. */
export function useHoldPlace(placeId: string, onDone: (held: PlaceHeld) => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof HoldPlace>) =>
    api.send(PlaceHeld, 'POST', `/api/places/${placeId}/holds`, keyed, { key: newKey() }),
  );
}

/** Writes down something of which nobody knows whose it is. */
export function useFoundProperty(onDone: (kept: KeptForOwner) => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof AddFoundProperty>) =>
    api.send(KeptForOwner, 'POST', '/api/found-property', keyed, { key: newKey() }),
  );
}

/** A customer’s thing waits for them from now on. */
export function useKeeping(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof KeepForOwner>) =>
    api.send(KeptForOwner, 'POST', `/api/things/${thingId}/kept-for-owner`, keyed, { key: newKey() }),
  );
}

/** A letter, a call, a visit. */
export function useKeptNote(keptId: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof AddKeptNote>) =>
    api.send(KeptForOwner, 'POST', `/api/kept-for-owners/${keptId}/notes`, keyed, { key: newKey() }),
  );
}

/** What became of it. */
export function useKeptEnding(keptId: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof EndKept>) =>
    api.send(KeptForOwner, 'POST', `/api/kept-for-owners/${keptId}/ending`, keyed, { key: newKey() }),
  );
}
