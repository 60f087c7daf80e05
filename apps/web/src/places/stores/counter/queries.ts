import { KeptForJobsList, ReceiptPaper, Sale, SaleCosts, SaleList, SalePreview, SaleTotals } from '@corewright/contracts/selling';
import { FirmList, SearchAnswer } from '@corewright/contracts/stores';
import { infiniteQueryOptions, keepPreviousData, queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';
import type { ComboSource } from '../../../ui/combo-options.js';

/** What a sale of these would do; `lines` are ids of things with quantities. */
export const salePreviewQuery = (lines: readonly { thingId: string; quantity: string }[]) =>
  queryOptions({
    queryKey: ['stores', 'sale-preview', lines],
    enabled: lines.length > 0,
    placeholderData: keepPreviousData,
    queryFn: ({ signal }) =>
      api.get(
        SalePreview,
        `/api/sale-preview?lines=${encodeURIComponent(lines.map(({ thingId, quantity }) => `${thingId}:${quantity}`).join(','))}`,
        { signal },
      ),
  });

/** Receipts, the newest first. */
export const salesQuery = infiniteQueryOptions({
  queryKey: ['stores', 'sales', 'list'],
  initialPageParam: '',
  queryFn: ({ pageParam, signal }) =>
    api.get(SaleList, `/api/sales${pageParam === '' ? '' : `?cursor=${encodeURIComponent(pageParam)}`}`, { signal }),
  getNextPageParam: (last) => last.cursor,
});

export const saleTotalsQuery = (by: 'day' | 'month') =>
  queryOptions({
    queryKey: ['stores', 'sales', 'totals', by],
    queryFn: ({ signal }) => api.get(SaleTotals, `/api/sale-totals?by=${by}`, { signal }),
  });

export const saleQuery = (saleId: string) =>
  queryOptions({
    queryKey: ['stores', 'sales', 'one', saleId],
    queryFn: ({ signal }) => api.get(Sale, `/api/sales/${saleId}`, { signal }),
  });

export const saleCostsQuery = (saleId: string) =>
  queryOptions({
    queryKey: ['stores', 'sales', 'costs', saleId],
    queryFn: ({ signal }) => api.get(SaleCosts, `/api/sales/${saleId}/costs`, { signal }),
  });

export const receiptPaperQuery = queryOptions({
  queryKey: ['settings', 'receipt-paper'],
  queryFn: ({ signal }) => api.get(ReceiptPaper, '/api/receipt-paper', { signal }),
});

/** What is kept for own jobs: of a part, or of a thing and its part. */
export const keptForJobsQuery = (of: { partId: string } | { thingId: string }) =>
  queryOptions({
    queryKey: ['stores', 'kept-for-jobs', of],
    queryFn: ({ signal }) => api.get(KeptForJobsList, `/api/kept-for-jobs?${new URLSearchParams({ ...of })}`, { signal }),
  });

const foundMax = 20;

/** Things of the stores that might be sold, by whatever is keyed. */
export const findGoods: ComboSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const found = await api.get(SearchAnswer, `/api/search?limit=60&q=${encodeURIComponent(typed)}`, { signal });
  return found.hits
    .filter(({ kind }) => kind === 'lot' || kind === 'unit' || kind === 'component')
    .slice(0, foundMax)
    .map(({ id, code, name, detail }) => ({ id, label: name, number: code ?? '', note: `${code ?? ''} ${detail}`.trim(), name }));
};

export const findBuyers: ComboSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const found = await api.get(FirmList, `/api/firms?q=${encodeURIComponent(typed)}`, { signal });
  return found.firms.slice(0, foundMax).map(({ id, name }) => ({ id, label: name }));
};
