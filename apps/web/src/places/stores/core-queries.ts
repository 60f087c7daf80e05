import {
  CoreAges,
  type CoreReview,
  CoreReviewList,
  CoreReviewMarks,
  CoreWorths,
  type EditCoreReviewMarks,
  type ReviewCore,
} from '@corewright/contracts/core-ages';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Cores by how long they have lain in the yard. */
export const coreAgesQuery = queryOptions({
  queryKey: ['stores', 'core-ages'],
  queryFn: ({ signal }) => api.get(CoreAges, '/api/core-ages', { signal }),
});

/** What cores are worth, whole and for spares; only for those who keep the books. */
export const coreWorthsQuery = queryOptions({
  queryKey: ['stores', 'core-worths'],
  queryFn: ({ signal }) => api.get(CoreWorths, '/api/core-worths', { signal }),
});

/** Every time that a core was looked through. */
export const coreReviewsQuery = (unitId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', unitId, 'core-reviews'],
    queryFn: ({ signal }) => api.get(CoreReviewList, `/api/units/${unitId}/core-reviews`, { signal }),
  });

export type Decided = CoreReview['decided'];

/** Puts on the record that a core was looked through. */
export function useReviewCore(unitId: string, onDone: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (review: ReviewCore) =>
      api.send(CoreReviewList, 'POST', `/api/units/${unitId}/core-reviews`, review, { key: newKey() }),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['stores'] });
      onDone();
    },
  });
}

/** Keeps after how many months a core is looked through. */
export function useReviewMarks() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: ({ version, ...marks }: EditCoreReviewMarks & { readonly version: number }) =>
      api.send(CoreReviewMarks, 'PUT', '/api/core-review-marks', marks, { ifMatch: `"${version}"` }),
    onSettled: () => client.invalidateQueries({ queryKey: ['stores'] }),
  });
}
