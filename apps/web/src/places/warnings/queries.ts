import { Warning, WarningList } from '@corewright/contracts/warnings';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';

/** What is open, and what was settled in the last days. */
export const warningsQuery = queryOptions({
  queryKey: ['warnings'],
  queryFn: ({ signal }) => api.get(WarningList, '/api/warnings', { signal }),
});

export function useSettling(id: string) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (note: string) => api.send(Warning, 'POST', `/api/warnings/${id}/settle`, { note }),
    onSuccess: () => client.invalidateQueries({ queryKey: warningsQuery.queryKey }),
  });
}
