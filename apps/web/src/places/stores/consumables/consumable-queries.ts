import { ConsumableList, ConsumableOfPart, ContainerPage, ToBuy } from '@corewright/contracts/consumables';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** Every consumable with its containers. */
export const consumablesQuery = queryOptions({
  queryKey: ['stores', 'consumables'],
  queryFn: ({ signal }) => api.get(ConsumableList, '/api/consumables', { signal }),
});

/** A part as a consumable, if it is one, and its minimum, if it has one. */
export const consumableOfPartQuery = (partId: string) =>
  queryOptions({
    queryKey: ['stores', 'part', partId, 'consumable'],
    queryFn: ({ signal }) => api.get(ConsumableOfPart, `/api/parts/${partId}/consumable`, { signal }),
  });

/** A lot as a container of a consumable. */
export const containerQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId, 'container'],
    queryFn: ({ signal }) => api.get(ContainerPage, `/api/things/${thingId}/container`, { signal }),
  });

/** What is below its minimum, by the firm. */
export const toBuyQuery = queryOptions({
  queryKey: ['stores', 'to-buy'],
  queryFn: ({ signal }) => api.get(ToBuy, '/api/to-buy', { signal }),
});
