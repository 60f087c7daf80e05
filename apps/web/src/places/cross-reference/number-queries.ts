import { MakerList, PartList } from '@corewright/contracts/catalogue';
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

/** What is asked for: a number however keyed, of one maker or, where that is empty, of any. */
export interface NumberAsked {
  readonly number: string;
  readonly makerId: string;
}

/** Parts by number, the nearest first. What is in stores stands beside each, so it goes stale with the stores. */
export const numberQuery = ({ number, makerId }: NumberAsked) =>
  infiniteQueryOptions({
    queryKey: ['stores', 'numbers', number, makerId],
    enabled: number !== '',
    retry: false,
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) => {
      const asked = Object.entries({ q: number, limit: '50', makerId, cursor: pageParam }).filter(([, value]) => value !== '');
      return api.get(PartList, `/api/parts?${new URLSearchParams(asked)}`, { signal });
    },
    getNextPageParam: (last) => last.cursor,
  });

export const makersQuery = queryOptions({
  queryKey: ['stores', 'makers'],
  queryFn: ({ signal }) => api.get(MakerList, '/api/makers', { signal }),
  staleTime: 60_000,
});
