import { type AddPart, type AddPartNumber, type EditPart, PartChanged } from '@corewright/contracts/catalogue';
import { CasingReplaced, type ReplaceCasing } from '@corewright/contracts/cores';
import { type BindSet, type BreakSet, KeptSet, KeptSetList } from '@corewright/contracts/kept-sets';
import { type RecordRelation, RelationList } from '@corewright/contracts/relations';
import { type InspectLot, type PreserveLot, Thing } from '@corewright/contracts/stores';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';

/** Puts the inspection of a lot on the record. */
export function useInspection(lot: { readonly id: string; readonly version: number }, onDone: () => void) {
  return useStoresChange(onDone, (inspection: InspectLot) =>
    api.send(Thing, 'POST', `/api/things/${lot.id}/inspections`, inspection, { key: newKey(), ifMatch: `"${lot.version}"` }),
  );
}

/** Says how a lot of bearings is preserved. */
export function usePreservation(lot: { readonly id: string; readonly version: number }, onDone: () => void) {
  return useStoresChange(onDone, (preservation: PreserveLot) =>
    api.send(Thing, 'POST', `/api/things/${lot.id}/preservation`, preservation, { key: newKey(), ifMatch: `"${lot.version}"` }),
  );
}

/** Writes a part down that was in no book. */
export function useAddPart(onDone: () => void) {
  return useStoresChange(onDone, (part: z.input<typeof AddPart>) =>
    api.send(PartChanged, 'POST', '/api/parts', part, { key: newKey() }),
  );
}

/** What a part is, as it is keyed over the version that was seen. */
export interface PartKeyedOver {
  readonly version: number;
  readonly part: z.input<typeof EditPart>;
}

/** Puts right what a part is. */
export function useEditPart(partId: string, onDone: () => void) {
  return useStoresChange(onDone, ({ version, part }: PartKeyedOver) =>
    api.send(PartChanged, 'PATCH', `/api/parts/${partId}`, part, { key: newKey(), ifMatch: `"${version}"` }),
  );
}

/** Adds a further number of a part. */
export function useAddPartNumber(partId: string, onDone: () => void) {
  return useStoresChange(onDone, (number: z.input<typeof AddPartNumber>) =>
    api.send(PartChanged, 'POST', `/api/parts/${partId}/numbers`, number, { key: newKey() }),
  );
}

/** A relation from one part to others, as it is keyed. */
export interface RelationKeyed {
  readonly fromPartId: string;
  readonly relation: RecordRelation;
}

/** Puts a relation between parts on the record. */
export function useRecordRelation(onDone: () => void) {
  return useStoresChange(onDone, ({ fromPartId, relation }: RelationKeyed) =>
    api.send(RelationList, 'POST', `/api/parts/${fromPartId}/relations`, relation, { key: newKey() }),
  );
}

/** Takes a relation back; it stays on the record with the reason. */
export function useWithdrawRelation(relationId: string, onDone: () => void) {
  return useStoresChange(onDone, (why: string) =>
    api.send(RelationList, 'POST', `/api/relations/${relationId}/withdrawal`, { why }, { key: newKey() }),
  );
}

/** The insides of a unit go on in another casing. */
export function useReplaceCasing(unitId: string, onDone: () => void) {
  const client = useQueryClient();
  return useStoresChange(
    () => {
      void client.invalidateQueries({ queryKey: ['bench', 'strip-down', unitId] });
      onDone();
    },
    (casing: ReplaceCasing) =>
      api.send(CasingReplaced, 'POST', `/api/units/${unitId}/casing-replacement`, casing, { key: newKey() }),
  );
}

/** Binds parts that belong together for good. */
export function useBindSet(onDone: () => void) {
  return useStoresChange(onDone, (set: z.input<typeof BindSet>) =>
    api.send(KeptSetList, 'POST', '/api/kept-sets', set, { key: newKey() }),
  );
}

/** Breaks a set that stays together, on somebody's word. */
export function useBreakSet(setId: string, onDone: () => void) {
  return useStoresChange(onDone, (said: BreakSet) =>
    api.send(KeptSet, 'POST', `/api/kept-sets/${setId}/breaking`, said, { key: newKey() }),
  );
}

/** A change of something in stores: what stores show is asked for anew, then `onDone` has the answer. */
export function useStoresChange<Keyed, Answer>(onDone: (answer: Answer) => void, send: (keyed: Keyed) => Promise<Answer>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: async (answer) => {
      await client.invalidateQueries({ queryKey: ['stores'] });
      onDone(answer);
    },
  });
}
