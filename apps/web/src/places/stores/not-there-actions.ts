import type { FoundHere, NotThere, PostAway } from '@corewright/contracts/not-there';
import { Thing } from '@corewright/contracts/stores';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import { useStoresChange } from './actions.js';

/** Says that a thing is not where the books have it. */
export function useNotThere(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (looked: z.input<typeof NotThere>) =>
    api.send(Thing, 'POST', `/api/things/${thingId}/not-there`, looked, { key: newKey() }),
  );
}

/** Says where a missing thing is. */
export function useFoundHere(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (found: FoundHere) =>
    api.send(Thing, 'POST', `/api/things/${thingId}/found`, found, { key: newKey() }),
  );
}

/** Takes a lot that nobody finds out of the books. */
export function usePostingAway(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (posted: PostAway) =>
    api.send(Thing, 'POST', `/api/things/${thingId}/posting-away`, posted, { key: newKey() }),
  );
}
