import { LabelPrinterList, LabelText } from '@corewright/contracts/labels';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

/** What stands on the label of a code, and how often it was printed. */
export const labelQuery = (code: string) =>
  queryOptions({
    queryKey: ['labels', code],
    queryFn: ({ signal }) => api.get(LabelText, `/api/labels/${encodeURIComponent(code)}`, { signal }),
  });

export const printersQuery = queryOptions({
  queryKey: ['settings', 'label-printers'],
  queryFn: ({ signal }) => api.get(LabelPrinterList, '/api/label-printers', { signal }),
  staleTime: 60_000,
});
