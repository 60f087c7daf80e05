import { IdentificationList, type IdentifyUnit, KnownTypeList, UnidentifiedList } from '@corewright/contracts/identify';
import { Thing } from '@corewright/contracts/stores';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Every unit type by what it is known by. */
export const knownTypesQuery = queryOptions({
  queryKey: ['stores', 'known-types'],
  queryFn: ({ signal }) => api.get(KnownTypeList, '/api/unit-types/known-by', { signal }),
});

/** Units of which nobody has said what they are, the oldest first. */
export const unidentifiedQuery = queryOptions({
  queryKey: ['stores', 'unidentified'],
  queryFn: ({ signal }) => api.get(UnidentifiedList, '/api/units/unidentified', { signal }),
});

/** Whatever was said of what a unit is. */
export const identificationsQuery = (unitId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', unitId, 'identifications'],
    queryFn: ({ signal }) => api.get(IdentificationList, `/api/units/${unitId}/identifications`, { signal }),
  });

/** Says what a unit is, by what was read. */
export function useIdentification(unit: { readonly id: string; readonly version: number }, onDone: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (said: z.input<typeof IdentifyUnit>) =>
      api.send(Thing, 'POST', `/api/units/${unit.id}/identification`, said, { key: newKey(), ifMatch: `"${unit.version}"` }),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['stores'] });
      onDone();
    },
  });
}
