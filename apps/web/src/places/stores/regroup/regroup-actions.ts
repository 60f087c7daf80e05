import { LotRegrouped, type MergeLot, type PutLotRight, Regroupings, type SplitLot } from '@corewright/contracts/regrouping';
import { Thing } from '@corewright/contracts/stores';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** What was split off a lot or became part of it. */
export const regroupingsQuery = (lotId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', lotId, 'regroupings'],
    queryFn: ({ signal }) => api.get(Regroupings, `/api/things/${lotId}/regroupings`, { signal }),
  });

/** One bag turns out to be two. */
export function useSplitLot(lotId: string) {
  return useStoresChange(
    () => undefined,
    (split: SplitLot) => api.send(LotRegrouped, 'POST', `/api/things/${lotId}/splitting`, split, { key: newKey() }),
  );
}

/** Two bags turn out to be one. */
export function useMergeLot(lotId: string, onDone: () => void) {
  return useStoresChange(onDone, (merge: MergeLot) =>
    api.send(LotRegrouped, 'POST', `/api/things/${lotId}/merging`, merge, { key: newKey() }),
  );
}

/** Says anew what was split off. */
export function usePutLotRight(lot: { readonly id: string; readonly version: number }, onDone: () => void) {
  return useStoresChange(onDone, (right: PutLotRight) =>
    api.send(Thing, 'POST', `/api/things/${lot.id}/putting-right`, right, { key: newKey(), ifMatch: `"${lot.version}"` }),
  );
}
