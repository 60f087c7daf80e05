import { BearingRead, BearingsCompared, BearingsMeasured, BearingTables } from '@corewright/contracts/bearings';
import { AskingLines } from '@corewright/contracts/substitutes';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

/** Lengths as keyed: millimetres, inches or fractions; empty where nothing was measured. */
export interface MeasuresKeyed {
  readonly bore: string;
  readonly outside: string;
  readonly width: string;
}

export const bearingQuery = (designation: string) =>
  queryOptions({
    queryKey: ['bearings', 'read', designation],
    enabled: designation !== '',
    retry: false,
    queryFn: ({ signal }) => api.get(BearingRead, `/api/bearings/read?${new URLSearchParams({ designation })}`, { signal }),
  });

/** The workshop's own rows, every suffix, and shipped rows whose number begins so. */
export const tablesQuery = (beginning: string) =>
  queryOptions({
    queryKey: ['bearings', 'tables', beginning],
    queryFn: ({ signal }) => api.get(BearingTables, `/api/bearing-tables?${new URLSearchParams({ q: beginning })}`, { signal }),
  });

export const comparedQuery = (wanted: string, other: string) =>
  queryOptions({
    queryKey: ['bearings', 'compared', wanted, other],
    enabled: wanted !== '' && other !== '',
    retry: false,
    queryFn: ({ signal }) =>
      api.get(BearingsCompared, `/api/bearings/compare?${new URLSearchParams({ a: wanted, b: other })}`, { signal }),
  });

export const measuredQuery = ({ bore, outside, width }: MeasuresKeyed) =>
  queryOptions({
    queryKey: ['bearings', 'measured', bore, outside, width],
    enabled: [bore, outside, width].filter((length) => length !== '').length >= 2,
    retry: false,
    queryFn: ({ signal }) =>
      api.get(BearingsMeasured, `/api/bearings/measured?${new URLSearchParams({ d: bore, D: outside, B: width })}`, { signal }),
  });

/** The lines of open jobs that ask for a part and are not complete. */
export const askingLinesQuery = (partId: string) =>
  queryOptions({
    queryKey: ['jobs', 'asking', partId],
    queryFn: ({ signal }) => api.get(AskingLines, `/api/parts/${partId}/asking-lines`, { signal }),
  });
