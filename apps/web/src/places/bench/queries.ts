import { ActList } from '@corewright/contracts/bench';
import { JobCard } from '@corewright/contracts/jobs';
import { PlaceList } from '@corewright/contracts/stores';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

export const benchJobQuery = (jobId: string) =>
  queryOptions({
    queryKey: ['bench', jobId, 'card'],
    queryFn: ({ signal }) => api.get(JobCard, `/api/jobs/${jobId}`, { signal }),
  });

export const benchActsQuery = (jobId: string) =>
  queryOptions({
    queryKey: ['bench', jobId, 'acts'],
    queryFn: ({ signal }) => api.get(ActList, `/api/jobs/${jobId}/acts`, { signal }),
  });

/** The places in which what may not be used is kept apart. */
export const quarantineQuery = queryOptions({
  queryKey: ['stores', 'quarantine'],
  queryFn: async ({ signal }) => (await api.get(PlaceList, '/api/places?kinds=quarantine', { signal })).places,
});
