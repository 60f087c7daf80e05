import type { BuildStandard } from '@corewright/contracts/base';
import { MakerList, PartPage } from '@corewright/contracts/catalogue';
import { KeptSetList } from '@corewright/contracts/kept-sets';
import { AlikeLie, PlaceLevel, PlacePage } from '@corewright/contracts/places';
import { MayServe } from '@corewright/contracts/relations';
import { ShelfLife } from '@corewright/contracts/shelf-life';
import { SearchAnswer, Thing } from '@corewright/contracts/stores';
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import type { ComboSource } from '../../ui/combo-options.js';

const cursorOf = (cursor: string) => (cursor === '' ? '' : `&cursor=${encodeURIComponent(cursor)}`);

/** One search over parts, numbers, nicknames, lots, units, places and jobs. */
export const searchQuery = (q: string) =>
  infiniteQueryOptions({
    queryKey: ['stores', 'search', q],
    enabled: q.trim() !== '',
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) =>
      api.get(SearchAnswer, `/api/search?limit=100&q=${encodeURIComponent(q)}${cursorOf(pageParam)}`, { signal }),
    getNextPageParam: (last) => last.cursor,
  });

/** What age has done to what is in stores, on a day; empty is today. */
export const shelfLifeQuery = (on: string) =>
  queryOptions({
    queryKey: ['stores', 'shelf-life', on],
    retry: false,
    queryFn: ({ signal }) => api.get(ShelfLife, `/api/shelf-life${on === '' ? '' : `?on=${encodeURIComponent(on)}`}`, { signal }),
  });

/** The places that stand in one; null: those that stand in no other. */
export const placeLevelQuery = (within: string | null) =>
  queryOptions({
    queryKey: ['stores', 'place-level', within],
    queryFn: ({ signal }) => api.get(PlaceLevel, `/api/place-levels${within === null ? '' : `?within=${within}`}`, { signal }),
  });

/** What the like of is sought: a thing, a part or a unit type; and a thing that is not counted among them. */
export interface AlikeSought {
  readonly of: 'things' | 'parts' | 'unit-types';
  readonly id: string;
  readonly besides?: string;
}

/** Where things like one lie, and an empty bin near them. */
export const alikeQuery = ({ of, id, besides }: AlikeSought) =>
  queryOptions({
    queryKey: ['stores', 'alike', of, id, besides],
    queryFn: ({ signal }) =>
      api.get(AlikeLie, `/api/${of}/${id}/alike${besides === undefined ? '' : `?besides=${besides}`}`, { signal }),
  });

export const placeQuery = (placeId: string) =>
  queryOptions({
    queryKey: ['stores', 'place', placeId],
    queryFn: ({ signal }) => api.get(PlacePage, `/api/places/${placeId}`, { signal }),
  });

export const partQuery = (partId: string) =>
  queryOptions({
    queryKey: ['stores', 'part', partId],
    queryFn: ({ signal }) => api.get(PartPage, `/api/parts/${partId}`, { signal }),
  });

/** What may be fitted in place of a part on a job that is built so, with its evidence and its stock; null: on any. */
export const mayServeQuery = (partId: string, standard: BuildStandard | null) =>
  queryOptions({
    queryKey: ['stores', 'part', partId, 'may-serve', standard],
    queryFn: ({ signal }) =>
      api.get(MayServe, `/api/parts/${partId}/may-serve${standard === null ? '' : `?standard=${encodeURIComponent(standard)}`}`, {
        signal,
      }),
  });

/** The sets that stay together of which a thing is, or was before they were broken. */
export const keptSetsQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId, 'kept-sets'],
    queryFn: ({ signal }) => api.get(KeptSetList, `/api/things/${thingId}/kept-sets`, { signal }),
  });

export const thingQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId],
    queryFn: ({ signal }) => api.get(Thing, `/api/things/${thingId}`, { signal }),
  });

/** Makers by what is keyed, those that begin so first. */
export const findMakers: ComboSource = async (typed, signal) => {
  const { makers } = await api.get(MakerList, '/api/makers', { signal });
  const sought = typed.trim().toLowerCase();
  const beginsSo = (name: string) => Number(name.toLowerCase().startsWith(sought));
  return makers
    .filter(({ name }) => name.toLowerCase().includes(sought))
    .sort((a, b) => beginsSo(b.name) - beginsSo(a.name))
    .slice(0, 30)
    .map(({ id, name }) => ({ id, label: name }));
};
