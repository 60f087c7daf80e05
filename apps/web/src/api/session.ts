import { Me, Workshop } from '@corewright/contracts/people';
import { queryOptions, useQuery } from '@tanstack/react-query';
import { api } from './client.js';

/** Who is signed in. A 401 leads to the sign-in page from wherever it is met. */
export const meQuery = queryOptions({
  queryKey: ['me'],
  queryFn: ({ signal }) => api.get(Me, '/api/me', { signal }),
  staleTime: Number.POSITIVE_INFINITY,
});

/** The workshop's own name and habits; anyone may ask. */
export const workshopQuery = queryOptions({
  queryKey: ['workshop'],
  queryFn: ({ signal }) => api.get(Workshop, '/api/workshop', { signal }),
  staleTime: 60_000,
});

/** Whether somebody changes the books of the stores and the catalogue: the server lets nobody else. */
export function keepsBooks(me: Me | undefined): boolean {
  return me?.role === 'owner' || me?.role === 'stores';
}

/** Whether who is signed in keeps the books: what only keepers may do is not offered to others. */
export function useKeepsBooks(): boolean {
  return keepsBooks(useQuery(meQuery).data);
}

/** Whether who is signed in works with things: a viewer only looks. */
export function useWorksWithThings(): boolean {
  const { data: me } = useQuery(meQuery);
  return me !== undefined && me.role !== 'viewer';
}
