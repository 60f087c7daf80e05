import { LabelChanged, LabelsBorne, type PutLabelOn, type ReplaceLabel } from '@corewright/contracts/label-changes';
import { ScanAnswer } from '@corewright/contracts/scanning';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Every code that a thing or a place bears or bore. */
export const labelsBorneQuery = (subjectId: string) =>
  queryOptions({
    queryKey: ['stores', 'labels of', subjectId],
    queryFn: ({ signal }) => api.get(LabelsBorne, `/api/label-bearers/${subjectId}`, { signal }),
  });

/** What a code is on; a void one or a blank one is refused in words. */
export const borneByQuery = (code: string) =>
  queryOptions({
    queryKey: ['stores', 'scan', code],
    retry: false,
    queryFn: ({ signal }) => api.get(ScanAnswer, `/api/scan/${encodeURIComponent(code)}`, { signal }),
  });

/** Puts another label in the place of a lost or spoiled one. */
export function useReplaceLabel(code: string) {
  return useLabelChange((said: ReplaceLabel) =>
    api.send(LabelChanged, 'POST', `/api/labels/${code}/replacement`, said, { key: newKey() }),
  );
}

/** Puts a further label on what bears this one. */
export function useFurtherLabel(code: string) {
  return useLabelChange((said: PutLabelOn) =>
    api.send(LabelChanged, 'POST', `/api/labels/${code}/further`, said, { key: newKey() }),
  );
}

/** Takes one of several labels off. */
export function useTakeLabelOff(code: string) {
  return useLabelChange((why: string) =>
    api.send(LabelChanged, 'POST', `/api/labels/${code}/taking-off`, { why }, { key: newKey() }),
  );
}

function useLabelChange<Said>(send: (said: Said) => Promise<LabelChanged>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: (changed) => {
      client.setQueryData(labelsBorneQuery(changed.borne.subject.id).queryKey, changed.borne);
      for (const queryKey of [['stores'], ['labels'], ['blank-labels']]) void client.invalidateQueries({ queryKey });
    },
  });
}
