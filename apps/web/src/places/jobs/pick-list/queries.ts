import { PickList, TrayKit } from '@corewright/contracts/pick-list';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';

/** Under this every list is kept. */
export const pickListsKey = ['jobs', 'pick-list'] as const;

/** What to fetch for these jobs. */
export const pickListQuery = (jobIds: readonly string[]) =>
  queryOptions({
    queryKey: [...pickListsKey, ...jobIds],
    queryFn: ({ signal }) => api.get(PickList, `/api/pick-list?jobs=${jobIds.join(',')}`, { signal }),
  });

/** What is missing from a kit tray. */
export const trayKitQuery = (trayId: string) =>
  queryOptions({
    queryKey: ['jobs', 'tray-kit', trayId],
    queryFn: ({ signal }) => api.get(TrayKit, `/api/trays/${trayId}/kit`, { signal }),
  });

/** The address of the list for these jobs. */
export function pickListOf(jobIds: readonly string[]): string {
  return jobIds.length === 0 ? '/jobs/pick-list' : `/jobs/pick-list?jobs=${jobIds.join(',')}`;
}
