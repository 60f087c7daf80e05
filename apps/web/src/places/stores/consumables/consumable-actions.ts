import { Receipt } from '@corewright/contracts/buying';
import {
  ConsumableOfPart,
  type ContainerFound,
  ContainerOpened,
  ContainerPage,
  type EndContainer,
  type KeepConsumable,
  type KeepMinimum,
  MinimumOfPart,
  type OpenContainer,
} from '@corewright/contracts/consumables';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { useStoresChange } from '../actions.js';

/** The version that was seen as the header has it; none where nothing was there yet. */
const over = (version: number | null) => (version === null ? {} : { ifMatch: `"${version}"` });

/** Says how a part goes by the container. */
export function useKeepConsumable(partId: string, version: number | null, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof KeepConsumable>) =>
    api.send(ConsumableOfPart, 'PUT', `/api/parts/${partId}/consumable`, keyed, { key: newKey(), ...over(version) }),
  );
}

/** A part is an ordinary one again. */
export function useWithdrawConsumable(partId: string, version: number, onDone: () => void) {
  return useStoresChange(onDone, (why: string) =>
    api.send(
      ConsumableOfPart,
      'POST',
      `/api/parts/${partId}/consumable/withdrawal`,
      { why },
      { key: newKey(), ...over(version) },
    ),
  );
}

/** What the packet says. */
export function useReadUseBy(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (useBy: string | null) =>
    api.send(ContainerPage, 'POST', `/api/things/${thingId}/use-by`, { useBy }, { key: newKey() }),
  );
}

/** Opens one of a lot. */
export function useOpening(onDone: (opened: ContainerOpened) => void) {
  return useStoresChange(onDone, ({ thingId, ...keyed }: z.input<typeof OpenContainer> & { thingId: string }) =>
    api.send(ContainerOpened, 'POST', `/api/things/${thingId}/opening`, keyed, { key: newKey() }),
  );
}

/** An open one is empty, or is thrown away. */
export function useContainerEnd(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof EndContainer>) =>
    api.send(ContainerPage, 'POST', `/api/things/${thingId}/container-end`, keyed, { key: newKey() }),
  );
}

/** It was never opened. */
export function useNotOpened(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (why: string) =>
    api.send(ContainerPage, 'POST', `/api/things/${thingId}/not-opened`, { why }, { key: newKey() }),
  );
}

/** It is not gone after all. */
export function useContainerFound(thingId: string, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof ContainerFound>) =>
    api.send(ContainerPage, 'POST', `/api/things/${thingId}/container-found`, keyed, { key: newKey() }),
  );
}

/** Sets the minimum of a part. */
export function useKeepMinimum(partId: string, version: number | null, onDone: () => void) {
  return useStoresChange(onDone, (keyed: z.input<typeof KeepMinimum>) =>
    api.send(MinimumOfPart, 'PUT', `/api/parts/${partId}/minimum`, keyed, { key: newKey(), ...over(version) }),
  );
}

/** Takes the minimum of a part away. */
export function useRemoveMinimum(partId: string, version: number, onDone: () => void) {
  return useStoresChange(onDone, () =>
    api.send(MinimumOfPart, 'POST', `/api/parts/${partId}/minimum/removal`, {}, { key: newKey(), ...over(version) }),
  );
}

export interface OrderKeyed {
  readonly id: string;
  readonly orderReference: string;
  readonly supplierName: string;
  readonly partId: string;
  readonly quantity: string;
  readonly dueOn: string | null;
}

/** Writes down what was ordered of a part. */
export function useOrderOfPart(onDone: () => void) {
  return useStoresChange(onDone, (order: OrderKeyed) =>
    api.send(Receipt, 'POST', '/api/receipts', { ...order, confirmed: false, forJobId: null, note: '' }, { key: newKey() }),
  );
}
