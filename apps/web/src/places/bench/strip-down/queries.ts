import { FindingWordList, StripDownOfUnit } from '@corewright/contracts/cores';
import { FirmList } from '@corewright/contracts/stores';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** The latest strip-down of a unit, and the units that a replaced casing links to it. */
export const stripDownQuery = (unitId: string) =>
  queryOptions({
    queryKey: ['bench', 'strip-down', unitId],
    queryFn: ({ signal }) => api.get(StripDownOfUnit, `/api/units/${unitId}/strip-down`, { signal }),
  });

export const findingWordsQuery = queryOptions({
  queryKey: ['settings', 'finding-words'],
  queryFn: ({ signal }) => api.get(FindingWordList, '/api/finding-words', { signal }),
});

/** The firms to whom things are sent for work. */
export const outworkersQuery = queryOptions({
  queryKey: ['stores', 'outworkers'],
  queryFn: async ({ signal }) => (await api.get(FirmList, '/api/firms?q=', { signal })).firms.filter((firm) => firm.isOutworker),
});
