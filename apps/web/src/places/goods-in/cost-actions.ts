import {
  type CostPart,
  type CostRow,
  type EditLoadCost,
  LoadCost,
  type ShareLoadCost,
  type SharingWay,
} from '@corewright/contracts/costs';
import { type QueryKey, queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { useRef } from 'react';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import type { Choice } from '../../ui/SelectField.js';

/** What a load cost, with what each row would bear by each way. Only for those who keep the books. */
export const loadCostQuery = (loadId: string) =>
  queryOptions({
    queryKey: ['goods-in', 'load', loadId, 'cost'],
    queryFn: ({ signal }) => api.get(LoadCost, `/api/loads/${loadId}/cost`, { signal }),
  });

export const WAYS: readonly Choice<SharingWay>[] = [
  { value: 'relative value', label: 'what each is worth' },
  { value: 'weight', label: 'what each weighs' },
  { value: 'equally', label: 'equal shares' },
  { value: 'by hand', label: 'hand, row by row' },
];

/** "haulage and fees are not known": what a cost lacks, as the end of a sentence; empty where it lacks nothing. */
export function sayNotKnown(notKnown: readonly CostPart[]): string {
  if (notKnown.length === 0) return '';
  const words = notKnown.length === 1 ? notKnown[0] : `${notKnown.slice(0, -1).join(', ')} and ${notKnown.at(-1)}`;
  return `${words} ${notKnown.length === 1 && notKnown[0] !== 'fees' ? 'is' : 'are'} not known`;
}

/** Keeps what was paid over the version that was seen. */
export function useEditCost(cost: LoadCost, onDone: () => void) {
  return useCostChange(loadCostQuery(cost.id).queryKey, onDone, (keyed: EditLoadCost) =>
    api.send(LoadCost, 'PATCH', `/api/loads/${cost.id}/cost`, keyed, { key: newKey(), ifMatch: `"${cost.version}"` }),
  );
}

/** Shares the cost, or shares it again. */
export function useShareCost(loadId: string) {
  return useCostChange(loadCostQuery(loadId).queryKey, nothing, (sharing: ShareLoadCost) =>
    api.send(LoadCost, 'POST', `/api/loads/${loadId}/cost-shares`, sharing, { key: newKey() }),
  );
}

const nothing = () => undefined;

/** A change of a cost answers with its page as it is then; after a refusal that is asked for anew. */
export function useCostChange<Page, Input>(queryKey: QueryKey, onDone: () => void, send: (input: Input) => Promise<Page>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: (page) => {
      client.setQueryData(queryKey, page);
      onDone();
    },
    onError: () => void client.invalidateQueries({ queryKey }),
  });
}

export type WorthField = 'worth' | 'weightKg';

/** Keeps what a row of a load is worth or weighs. */
export function useKeepWorth(loadId: string) {
  const { queryKey } = loadCostQuery(loadId);
  return useWorthKeeper<LoadCost>(queryKey, (rowId, worth, ifMatch) =>
    api.send(LoadCost, 'PUT', `/api/loads/${loadId}/rows/${rowId}/worth`, worth, { key: newKey(), ifMatch }),
  );
}

type Worth = Readonly<Record<WorthField, string>>;

/**
 * Keeps a row's worth or weight as soon as its cell is left. One goes after another, so that the weight keyed right behind the worth
 * is kept over the version that the worth made.
 */
export function useWorthKeeper<Page extends { readonly rows: readonly CostRow[] }>(
  queryKey: QueryKey,
  put: (rowId: string, worth: Worth, ifMatch: string) => Promise<Page>,
) {
  const client = useQueryClient();
  const last = useRef<Promise<unknown>>(Promise.resolve());
  return (rowId: string, field: WorthField, text: string): Promise<void> => {
    const send = async () => {
      const row = client.getQueryData<Page>(queryKey)?.rows.find((each) => each.id === rowId);
      if (row === undefined) return;
      const kept = { worth: row.worth ?? '', weightKg: row.weightByType ? '' : (row.weightKg ?? '') };
      client.setQueryData(queryKey, await put(rowId, { ...kept, [field]: text }, `"${row.version}"`));
    };
    const sent = last.current.then(send);
    last.current = sent.catch(() => client.invalidateQueries({ queryKey }));
    return sent;
  };
}
