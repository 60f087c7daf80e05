import { Buildable } from '@corewright/contracts/buildable';
import { ByPart } from '@corewright/contracts/by-part';
import { JobCard, JobList } from '@corewright/contracts/jobs';
import { FirmList } from '@corewright/contracts/stores';
import { ToReserve } from '@corewright/contracts/to-reserve';
import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { partsFor } from '../../api/parts.js';
import type { ComboSource } from '../../ui/combo-options.js';
import type { BuildableAsked } from './buildable-asked.js';

/** Jobs in the workshop's order; those that are open, or those that are not. */
export const jobsQuery = (open: 'yes' | 'no') =>
  infiniteQueryOptions({
    queryKey: ['jobs', 'list', open],
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) =>
      api.get(JobList, `/api/jobs?open=${open}${pageParam === '' ? '' : `&cursor=${encodeURIComponent(pageParam)}`}`, { signal }),
    getNextPageParam: (last) => last.cursor,
  });

/** What could be built of what is free. */
export const buildableQuery = (asked: BuildableAsked) =>
  queryOptions({
    queryKey: ['jobs', 'buildable', asked],
    queryFn: ({ signal }) => api.get(Buildable, `/api/buildable?${new URLSearchParams({ ...asked })}`, { signal }),
  });

/** The parts that open jobs lack or stand in each other's way for. */
export const byPartQuery = queryOptions({
  queryKey: ['jobs', 'by-part'],
  queryFn: ({ signal }) => api.get(ByPart, '/api/coverage/by-part', { signal }),
});

/** What every job could reserve. */
export const toReserveQuery = queryOptions({
  queryKey: ['jobs', 'to-reserve'],
  queryFn: ({ signal }) => api.get(ToReserve, '/api/coverage/to-reserve', { signal }),
});

/** One job's card with its coverage and advice. */
export const jobQuery = (jobId: string) =>
  queryOptions({
    queryKey: ['jobs', 'card', jobId],
    queryFn: ({ signal }) => api.get(JobCard, `/api/jobs/${jobId}`, { signal }),
  });

export const findCustomers: ComboSource = async (typed, signal) => {
  const found = await api.get(FirmList, `/api/firms?q=${encodeURIComponent(typed)}`, { signal });
  return found.firms
    .filter((firm) => firm.isCustomer)
    .slice(0, 30)
    .map((firm) => ({ id: firm.id, label: firm.name }));
};

export const findParts: ComboSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const parts = await partsFor(typed, 12, signal);
  return parts.map((part) => ({
    id: part.id,
    label: `${part.number} ${part.name}`,
    number: part.number,
    note: `${part.maker}, ${part.free} free`,
  }));
};
