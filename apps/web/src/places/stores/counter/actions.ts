import { KeptForJobs, ReceiptPaper, Sale, type Sell, type TakeBackSold } from '@corewright/contracts/selling';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRef } from 'react';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { asProblem } from '../../../api/problem.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** Sells what stands on the receipt. Pressed again because no answer came, it has the key that it had, and counts once. */
export function useSelling(onDone: (sale: Sale) => void) {
  const key = useRef(newKey());
  return useStoresChange(onDone, async (sale: z.input<typeof Sell>) => {
    try {
      return await api.send(Sale, 'POST', '/api/sales', sale, { key: key.current });
    } catch (thrown) {
      if (asProblem(thrown).code !== 'no-answer') key.current = newKey();
      throw thrown;
    }
  });
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
