import { LotRegrouped, type MergeLot, Regroupings, type SplitLot } from '@corewright/contracts/regrouping';
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
