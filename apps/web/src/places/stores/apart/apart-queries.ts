import { Holds, KeptForOwners, NotOurs, StandsApart } from '@corewright/contracts/goods-apart';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** What is held back, what lies in quarantine unheld, what is condemned, and who may be asked to lift a hold. */
export const holdsQuery = queryOptions({
  queryKey: ['stores', 'holds'],
  queryFn: ({ signal }) => api.get(Holds, '/api/holds', { signal }),
});

/** What sets one thing apart from stock, and how it came to that. */
export const standsApartQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId, 'stands-apart'],
    queryFn: ({ signal }) => api.get(StandsApart, `/api/things/${thingId}/stands-apart`, { signal }),
  });

/** What lies here and is not ours; of one owner, or of everybody where none is named. */
export const notOursQuery = (ownerId: string) =>
  queryOptions({
    queryKey: ['stores', 'not-ours', ownerId],
    queryFn: ({ signal }) => api.get(NotOurs, `/api/not-ours${ownerId === '' ? '' : `?ownerId=${ownerId}`}`, { signal }),
  });

/** Found property, and what waits for its owner. */
export const keptQuery = queryOptions({
  queryKey: ['stores', 'kept-for-owners'],
  queryFn: ({ signal }) => api.get(KeptForOwners, '/api/kept-for-owners', { signal }),
});
