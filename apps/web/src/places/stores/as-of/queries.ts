import { AsOfPage, AsOfTotals } from '@corewright/contracts/stock-as-of';
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

const asked = (at: string, placeId: string, more: Record<string, string> = {}): string =>
  new URLSearchParams({ at, ...(placeId === '' ? {} : { placeId }), ...more }).toString();

/** What is past stays as it is: it is asked for once. */
const forGood = { staleTime: Number.POSITIVE_INFINITY, retry: false } as const;

export const asOfLinesQuery = (at: string, placeId: string) =>
  infiniteQueryOptions({
    ...forGood,
    queryKey: ['stock-as-of', at, placeId],
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) =>
      api.get(AsOfPage, `/api/stock-as-of?${asked(at, placeId, pageParam === '' ? {} : { cursor: pageParam })}`, { signal }),
    getNextPageParam: (last) => last.cursor,
  });

export const asOfTotalsQuery = (at: string, placeId: string) =>
  queryOptions({
    ...forGood,
    queryKey: ['stock-as-of', at, placeId, 'totals'],
    queryFn: ({ signal }) => api.get(AsOfTotals, `/api/stock-as-of/totals?${asked(at, placeId)}`, { signal }),
  });

export const fileOf = (at: string, placeId: string): string => `/api/stock-as-of/file?${asked(at, placeId)}`;
