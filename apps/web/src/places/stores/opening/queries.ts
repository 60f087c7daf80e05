import { OpeningProgress, OpeningShelf, OpeningWorth } from '@corewright/contracts/opening-stock';
import { FirmList } from '@corewright/contracts/stores';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** How far opening stock is, rack by rack. */
export const progressQuery = queryOptions({
  queryKey: ['stores', 'opening'],
  queryFn: ({ signal }) => api.get(OpeningProgress, '/api/opening', { signal }),
});

/** Under this every shelf is kept that was opened here. */
export const shelvesKey = ['stores', 'opening', 'shelf'] as const;

export const shelfQuery = (placeId: string) =>
  queryOptions({
    queryKey: [...shelvesKey, placeId],
    queryFn: ({ signal }) => api.get(OpeningShelf, `/api/opening/places/${placeId}`, { signal }),
  });

/** What it cost as far as anybody knows; for those who keep the books. */
export const worthQuery = queryOptions({
  queryKey: ['stores', 'opening', 'worth'],
  queryFn: ({ signal }) => api.get(OpeningWorth, '/api/opening/worth', { signal }),
});

/** Whose a thing may be where it is not ours. */
export const customersQuery = queryOptions({
  queryKey: ['stores', 'customers'],
  queryFn: async ({ signal }) =>
    (await api.get(FirmList, '/api/firms?q=', { signal })).firms.filter(({ isCustomer }) => isCustomer).map(({ name }) => name),
  staleTime: 60_000,
});
