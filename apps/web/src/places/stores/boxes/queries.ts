import { BoxPage, NamedOutOfBox, type NameOutOfBox } from '@corewright/contracts/boxes';
import { queryOptions } from '@tanstack/react-query';
import type { z } from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** A box of unsorted things, with what was taken out of it and named. */
export const boxQuery = (boxId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', boxId, 'box'],
    queryFn: ({ signal }) => api.get(BoxPage, `/api/boxes/${boxId}`, { signal }),
  });

/** Names something in a box. */
export function useNaming(boxId: string, onDone: (done: NamedOutOfBox) => void) {
  return useStoresChange(onDone, (named: z.input<typeof NameOutOfBox>) =>
    api.send(NamedOutOfBox, 'POST', `/api/boxes/${boxId}/takings`, named, { key: newKey() }),
  );
}

export function useUndoTaking(boxId: string, onDone: () => void) {
  return useStoresChange(onDone, ({ takingId, why }: { readonly takingId: string; readonly why: string }) =>
    api.send(BoxPage, 'POST', `/api/boxes/${boxId}/takings/${takingId}/undoing`, { why }, { key: newKey() }),
  );
}

export function useSayEmpty(boxId: string, onDone: () => void) {
  return useStoresChange(onDone, (why: string) =>
    api.send(BoxPage, 'POST', `/api/boxes/${boxId}/emptying`, { why }, { key: newKey() }),
  );
}
