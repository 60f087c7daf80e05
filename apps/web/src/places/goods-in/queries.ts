import { GradeList, UnitTypeList } from '@corewright/contracts/catalogue';
import { LoadList, LoadPage } from '@corewright/contracts/goods-in';
import { CodeBlockList } from '@corewright/contracts/labels';
import { FirmList } from '@corewright/contracts/stores';
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { partsFor } from '../../api/parts.js';
import type { ListSource } from '../../ui/combo-options.js';

/** All loads, newest first, a page at a time. */
export const loadsQuery = infiniteQueryOptions({
  queryKey: ['goods-in', 'loads'],
  initialPageParam: '',
  queryFn: ({ pageParam, signal }) =>
    api.get(LoadList, `/api/loads?limit=50${pageParam === '' ? '' : `&cursor=${encodeURIComponent(pageParam)}`}`, { signal }),
  getNextPageParam: (last) => last.cursor,
});

/** One load with its rows. */
export const loadQuery = (loadId: string) =>
  queryOptions({
    queryKey: ['goods-in', 'load', loadId],
    queryFn: ({ signal }) => api.get(LoadPage, `/api/loads/${loadId}`, { signal }),
  });

/** Labels that were printed beforehand and are on nothing yet. Fetched with a load, so that they are known where there is no network. */
export const blankLabelsQuery = queryOptions({
  queryKey: ['blank-labels'],
  queryFn: ({ signal }) => api.get(CodeBlockList, '/api/code-blocks', { signal }),
});

export const gradesQuery = queryOptions({
  queryKey: ['settings', 'grades'],
  queryFn: ({ signal }) => api.get(GradeList, '/api/grades', { signal }),
  staleTime: 600_000,
});

/** The first choice for a unit is always that nobody has named it yet. */
export const NOT_YET_IDENTIFIED = { id: '', label: 'not yet identified', note: 'say what it looks like; name it later' } as const;

/** Unit types by what is keyed. */
export const findUnitTypes: ListSource = async (typed, signal) => {
  const found = await api.get(UnitTypeList, `/api/unit-types?q=${encodeURIComponent(typed)}`, { signal });
  return [
    NOT_YET_IDENTIFIED,
    ...found.unitTypes.map((type) => ({
      id: type.id,
      label: type.name,
      note: [type.kind, type.recogniseBy].filter((words) => words !== '').join(': '),
    })),
  ];
};

/** Parts by number, however keyed, by name and by nickname. The number goes into the cell. */
export const findParts: ListSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const parts = await partsFor(typed, 12, signal);
  return parts.map((part) => ({
    id: part.id,
    label: part.number,
    note: `${part.name}, ${part.maker}${part.matchedNumber === null || part.matchedNumber === part.number ? '' : `; found as ${part.matchedNumber}`}`,
    name: part.name,
    ...(part.matchedNumber === null ? {} : { also: part.matchedNumber }),
  }));
};

/** Firms by name. A name that nobody knows yet is taken as it is keyed. */
export const findFirms: ListSource = async (typed, signal) => {
  const found = await api.get(FirmList, `/api/firms?q=${encodeURIComponent(typed)}`, { signal });
  return found.firms.slice(0, 30).map((firm) => ({ id: firm.id, label: firm.name, note: rolesOf(firm) }));
};

function rolesOf(firm: { isCustomer: boolean; isSupplier: boolean; isOutworker: boolean }): string {
  return [firm.isCustomer && 'customer', firm.isSupplier && 'supplier', firm.isOutworker && 'outworker']
    .filter((role) => role !== false)
    .join(', ');
}
