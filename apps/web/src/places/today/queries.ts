import { Today } from '@corewright/contracts/today';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

export const todayQuery = queryOptions({
  queryKey: ['today'],
  queryFn: ({ signal }) => api.get(Today, '/api/today', { signal }),
});
