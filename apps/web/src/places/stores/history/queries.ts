import { HistoryPage } from '@corewright/contracts/history';
import { infiniteQueryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

export type HistorySubject = 'thing' | 'part' | 'place';

const addressOf: Readonly<Record<HistorySubject, string>> = { thing: 'things', part: 'parts', place: 'places' };

/** What is on record of a thing, a part or a place, newest first; of one kind only, where it is named. */
export const historyQuery = (of: HistorySubject, id: string, kind: string) =>
  infiniteQueryOptions({
    queryKey: ['stores', of, id, 'history', kind],
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) => {
      const asked = new URLSearchParams({
        ...(kind === '' ? {} : { kinds: kind }),
        ...(pageParam === '' ? {} : { cursor: pageParam }),
      });
      return api.get(HistoryPage, `/api/${addressOf[of]}/${id}/history?${asked}`, { signal });
    },
    getNextPageParam: (last) => last.cursor,
  });
