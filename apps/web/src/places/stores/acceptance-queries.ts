import { Acceptance, AcceptancesOfUnit, type DecideAcceptance, type FillInAcceptance } from '@corewright/contracts/acceptance';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../api/client.js';

/** What is asked of a unit as a core, and the sheets that were filled in for it. */
export const acceptancesQuery = (unitId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', unitId, 'acceptances'],
    queryFn: ({ signal }) => api.get(AcceptancesOfUnit, `/api/units/${unitId}/acceptances`, { signal }),
  });

function useOnUnit<Input>(unitId: string, act: (input: Input) => Promise<Acceptance>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: act,
    onSettled: () => client.invalidateQueries({ queryKey: ['stores', 'thing', unitId] }),
  });
}

export const useFillIn = (unitId: string) =>
  useOnUnit(unitId, (sheet: z.input<typeof FillInAcceptance>) =>
    api.send(Acceptance, 'POST', `/api/units/${unitId}/acceptances`, sheet),
  );

export const useDecide = (unitId: string, acceptanceId: string) =>
  useOnUnit(unitId, (decision: z.input<typeof DecideAcceptance>) =>
    api.send(Acceptance, 'POST', `/api/acceptances/${acceptanceId}/decision`, decision),
  );
