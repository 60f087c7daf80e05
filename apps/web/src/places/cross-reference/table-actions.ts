import { BearingTables } from '@corewright/contracts/bearings';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Keeps or strikes out a row of the tables of bearings; what was answered from them is asked again. */
export function useTableChange<Keyed>(path: string, onDone: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (keyed: Keyed) => api.send(BearingTables, 'POST', `/api/bearing-tables/${path}`, keyed, { key: newKey() }),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['bearings'] });
      onDone();
    },
  });
}
