import { Thing } from '@corewright/contracts/stores';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

export interface HoldChange {
  /** True holds the thing back from every job; false lifts that. */
  readonly holds: boolean;
  readonly reason: string;
}

/** Holds a thing back, or lifts that; with a reason that stays on the record. */
export function useHoldChange(thing: { readonly id: string; readonly version: number }, onDone: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: ({ holds, reason }: HoldChange) =>
      api.send(
        Thing,
        'POST',
        `/api/things/${thing.id}/${holds ? 'hold' : 'hold-lift'}`,
        { reason },
        { key: newKey(), ifMatch: `"${thing.version}"` },
      ),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['stores'] });
      onDone();
    },
  });
}
