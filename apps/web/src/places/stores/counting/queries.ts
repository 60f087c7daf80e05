import {
  CountDifferences,
  CountDueList,
  CountHits,
  CountList,
  CountMark,
  CountPage,
  CountSettings,
  LastCounted,
} from '@corewright/contracts/counting';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** What is due to be counted, the longest overdue first. */
export const countsDueQuery = queryOptions({
  queryKey: ['counting', 'due'],
  queryFn: ({ signal }) => api.get(CountDueList, '/api/counts-due', { signal }),
});

/** Counts that are open, and the last that were closed. */
export const countsQuery = queryOptions({
  queryKey: ['counting', 'counts'],
  queryFn: ({ signal }) => api.get(CountList, '/api/counts', { signal }),
});

/** A count as whoever counts sees it. */
export const countQuery = (countId: string) =>
  queryOptions({
    queryKey: ['counting', 'count', countId],
    queryFn: ({ signal }) => api.get(CountPage, `/api/counts/${countId}`, { signal }),
  });

/** What differs in a count; only for those who keep the books. */
export const differencesQuery = (countId: string) =>
  queryOptions({
    queryKey: ['counting', 'count', countId, 'differences'],
    queryFn: ({ signal }) => api.get(CountDifferences, `/api/counts/${countId}/differences`, { signal }),
  });

/** How often the books were right. */
export const countHitsQuery = queryOptions({
  queryKey: ['counting', 'hits'],
  queryFn: ({ signal }) => api.get(CountHits, '/api/count-hits', { signal }),
});

export const countSettingsQuery = queryOptions({
  queryKey: ['counting', 'settings'],
  queryFn: ({ signal }) => api.get(CountSettings, '/api/count-settings', { signal }),
});

/** Whether a part is counted as scarce. */
export const countMarkQuery = (partId: string) =>
  queryOptions({
    queryKey: ['counting', 'mark', partId],
    queryFn: ({ signal }) => api.get(CountMark, `/api/parts/${partId}/count-mark`, { signal }),
  });

/** What posted counts said of a thing or a place. */
export const lastCountedQuery = (of: 'things' | 'places', id: string) =>
  queryOptions({
    queryKey: ['counting', 'last', of, id],
    queryFn: ({ signal }) => api.get(LastCounted, `/api/${of}/${id}/counted`, { signal }),
  });
