import { YieldChoices, Yields } from '@corewright/contracts/yields';
import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { kept } from '../../routes/search.js';
import type { YieldsAsked } from './yields-asked.js';

/** How often components were serviceable, of the cores that are asked about. */
export const yieldsQuery = (asked: YieldsAsked) =>
  queryOptions({
    queryKey: ['stores', 'yields', asked],
    retry: false,
    placeholderData: keepPreviousData,
    queryFn: ({ signal }) => api.get(Yields, `/api/yields?${new URLSearchParams(kept({ ...asked }))}`, { signal }),
  });

/** What can be asked about: what has been taken apart. */
export const yieldChoicesQuery = queryOptions({
  queryKey: ['stores', 'yield-choices'],
  queryFn: ({ signal }) => api.get(YieldChoices, '/api/yield-choices', { signal }),
});
