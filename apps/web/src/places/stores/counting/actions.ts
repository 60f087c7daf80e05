import {
  type BeginCount,
  CountDifferences,
  CountMark,
  CountPage,
  CountSettings,
  type DecideCountLine,
  type EditCountSettings,
  type EndCount,
  EntryStruck,
  type SettleCountFinding,
} from '@corewright/contracts/counting';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';

/** A change of a count: what is shown of counts and of stores is asked for anew, then `onDone` has the answer. */
function useCountChange<Keyed, Answer>(
  send: (keyed: Keyed) => Promise<Answer>,
  onDone: (answer: Answer) => void = () => undefined,
) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: async (answer) => {
      await Promise.all([
        client.invalidateQueries({ queryKey: ['counting'] }),
        client.invalidateQueries({ queryKey: ['stores'] }),
        client.invalidateQueries({ queryKey: ['today'] }),
      ]);
      onDone(answer);
    },
  });
}

export function useBeginCount(onDone: (count: CountPage) => void) {
  return useCountChange(
    (begun: Pick<BeginCount, 'placeId' | 'partId'>) =>
      api.send(CountPage, 'POST', '/api/counts', { id: newKey(), ...begun }, { key: newKey() }),
    onDone,
  );
}

/** Decides on lines of a count: all that are sent, or none. */
export function useDecideLines(countId: string, onDone: () => void) {
  return useCountChange(
    (lines: readonly z.input<typeof DecideCountLine>[]) =>
      api.send(CountDifferences, 'POST', `/api/counts/${countId}/decisions`, { lines }, { key: newKey() }),
    onDone,
  );
}

export function useTakeDecisionBack() {
  return useCountChange((decisionId: string) =>
    api.send(CountDifferences, 'POST', `/api/count-decisions/${decisionId}/take-back`, {}, { key: newKey() }),
  );
}

export function useStrikeEntry() {
  return useCountChange((entryId: string) =>
    api.send(EntryStruck, 'POST', `/api/count-entries/${entryId}/strike`, {}, { key: newKey() }),
  );
}

export function useSettleFinding(findingId: string, onDone: () => void) {
  return useCountChange(
    (settled: z.input<typeof SettleCountFinding>) =>
      api.send(CountPage, 'POST', `/api/count-findings/${findingId}/end`, settled, { key: newKey() }),
    onDone,
  );
}

export function useEndCount(countId: string, onDone: () => void) {
  return useCountChange(
    (ended: z.input<typeof EndCount>) => api.send(CountPage, 'POST', `/api/counts/${countId}/end`, ended, { key: newKey() }),
    onDone,
  );
}

export function useCountSettings() {
  return useCountChange(({ version, ...settings }: EditCountSettings & { readonly version: number }) =>
    api.send(CountSettings, 'PUT', '/api/count-settings', settings, { ifMatch: `"${version}"` }),
  );
}

export function useCountMark(partId: string) {
  return useCountChange((scarce: boolean | null) =>
    api.send(CountMark, 'PUT', `/api/parts/${partId}/count-mark`, { scarce }, { key: newKey() }),
  );
}
