import { JobConsumables, type UseOnJob } from '@corewright/contracts/consumables';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';

/** What a job is charged for consumables. */
export const jobConsumablesQuery = (jobId: string) =>
  queryOptions({
    queryKey: ['jobs', 'consumables', jobId],
    queryFn: ({ signal }) => api.get(JobConsumables, `/api/jobs/${jobId}/consumables`, { signal }),
  });

export type ConsumableChange =
  | ({ readonly kind: 'use' } & z.input<typeof UseOnJob>)
  | { readonly kind: 'put right'; readonly id: string; readonly why: string }
  | { readonly kind: 'drop'; readonly id: string; readonly why: string };

/** Charges a use, or puts a row right by a second one. */
export function useConsumableChange(jobId: string, onDone: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (change: ConsumableChange) => {
      const key = newKey();
      if (change.kind === 'use') {
        const { kind: _kind, ...used } = change;
        return api.send(JobConsumables, 'POST', `/api/jobs/${jobId}/consumable-uses`, used, { key });
      }
      const path =
        change.kind === 'drop'
          ? `/api/jobs/${jobId}/flat-charges/${change.id}/dropping`
          : `/api/consumable-uses/${change.id}/putting-right`;
      return api.send(JobConsumables, 'POST', path, { why: change.why }, { key });
    },
    onSuccess: (answer) => {
      client.setQueryData(jobConsumablesQuery(jobId).queryKey, answer);
      void client.invalidateQueries({ queryKey: ['stores'] });
      onDone();
    },
  });
}
