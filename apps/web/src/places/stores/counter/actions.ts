import { KeptForJobs, ReceiptPaper, Sale, type Sell, type TakeBackSold } from '@corewright/contracts/selling';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** Sells what stands on the receipt. The id is the key too: pressed again after no answer, it counts once. */
export function useSelling(onDone: (sale: Sale) => void) {
  return useStoresChange(onDone, (sale: z.input<typeof Sell>) => api.send(Sale, 'POST', '/api/sales', sale, { key: newKey() }));
}

/** What was sold comes back. */
export function useTakingBackSold(saleId: string, onDone: () => void) {
  return useStoresChange(onDone, (back: z.input<typeof TakeBackSold>) =>
    api.send(Sale, 'POST', `/api/sales/${saleId}/taking-back`, back, { key: newKey() }),
  );
}

/** Keeps a part, or one thing, for own jobs. */
export function useKeeping(onDone: () => void) {
  return useStoresChange(onDone, (keep: { partId?: string; thingId?: string; reason: string }) =>
    api.send(KeptForJobs, 'POST', '/api/kept-for-jobs', { id: newKey(), ...keep }, { key: newKey() }),
  );
}

/** Lifts that, by name and with a reason. */
export function useLiftingKept(keptId: string, onDone: () => void) {
  return useStoresChange(onDone, (why: string) =>
    api.send(KeptForJobs, 'POST', `/api/kept-for-jobs/${keptId}/lifting`, { why }, { key: newKey() }),
  );
}

export interface PaperKeyed {
  readonly address: string;
  readonly taxWords: string;
  readonly footWords: string;
  readonly version: number;
}

/** What stands on receipts from now on. */
export function useReceiptPaper() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: ({ version, ...paper }: PaperKeyed) =>
      api.send(ReceiptPaper, 'PUT', '/api/receipt-paper', paper, { key: newKey(), ifMatch: `"${version}"` }),
    onSuccess: () => client.invalidateQueries({ queryKey: ['settings', 'receipt-paper'] }),
  });
}
