import {
  type GiveUsualFate,
  type RecordStripFinding,
  StripDown,
  StripDownFinished,
  StripFindingDone,
  UsualFateGiven,
} from '@corewright/contracts/cores';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRef } from 'react';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { asProblem } from '../../../api/problem.js';
import { newKey } from '../../../api/uuid.js';

/** One key for one act, however often it is sent: after silence the same goes again, after a refusal another. */
function useStripAct<Keyed, Answer>(send: (keyed: Keyed, key: string) => Promise<Answer>) {
  const client = useQueryClient();
  const key = useRef(newKey());
  return useMutation({
    mutationFn: (keyed: Keyed) => send(keyed, key.current),
    onSuccess: async () => {
      key.current = newKey();
      await Promise.all(['bench', 'stores', 'jobs'].map((area) => client.invalidateQueries({ queryKey: [area] })));
    },
    onError: (thrown) => {
      if (asProblem(thrown).status !== 0) key.current = newKey();
    },
  });
}

export const useBeginStripDown = (unitId: string) =>
  useStripAct((_: null, key) => api.send(StripDown, 'POST', `/api/units/${unitId}/strip-downs`, { id: key }, { key }));

export const useRecordFinding = (stripDownId: string) =>
  useStripAct((finding: z.input<typeof RecordStripFinding>, key) =>
    api.send(StripFindingDone, 'POST', `/api/strip-downs/${stripDownId}/findings`, finding, { key }),
  );

export const useGiveUsualFate = (stripDownId: string) =>
  useStripAct((rest: z.input<typeof GiveUsualFate>, key) =>
    api.send(UsualFateGiven, 'POST', `/api/strip-downs/${stripDownId}/usual-fate`, rest, { key }),
  );

export const useFinishStripDown = (stripDownId: string) =>
  useStripAct((_: null, key) => api.send(StripDownFinished, 'POST', `/api/strip-downs/${stripDownId}/finish`, {}, { key }));
