import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ContainerOpened } from '../../libs/contracts/src/consumables.js';
import type { Visitor } from './bare-server.js';
import { accepted, fresh } from './write-making.js';

export interface Sealant {
  partId: string;
  /** of full containers */
  lot: { id: string; code: string };
}

/** Sealant by the cartridge, a use of which is about a twentieth: ordered, and come in; below its minimum of ten. */
export async function sealantIn(owner: Visitor, name: string, { quantity = '3', keepsDays = 90 } = {}): Promise<Sealant> {
  const [partId, receiptId, lotId] = [newId(), newId(), newId()];
  const part = {
    id: partId,
    makerName: fresh('Halloran Compounds'),
    number: fresh('HC'),
    name,
    unitOfMeasure: 'each',
    material: 'other',
  };
  await accepted(owner.post('/api/parts', part));
  await accepted(
    owner.put(`/api/parts/${partId}/consumable`, {
      container: 'cartridge',
      keepsDays,
      oneAtATime: true,
      charged: 'by use',
      useAmount: '',
      usesPerContainer: 20,
    }),
  );
  await accepted(owner.put(`/api/parts/${partId}/minimum`, { minimum: '10', upTo: '12', supplierName: 'Veldrow Supplies' }));
  const [place] = (await owner.get<{ places: { id: string }[] }>('/api/places?q=B12')).body.places;
  if (place === undefined) throw new Error('The example workshop has lost its places.');
  const order = {
    id: receiptId,
    orderReference: fresh('Order'),
    supplierName: 'Veldrow Supplies',
    partId,
    quantity,
    dueOn: null,
    confirmed: false,
    forJobId: null,
  };
  await accepted(owner.post('/api/receipts', order));
  const arrival = { lotId, quantity, placeId: place.id, source: 'new', make: 'genuine' };
  const { lot } = await accepted(
    owner.post<{ lot: { id: string; code: string } }>(`/api/receipts/${receiptId}/arrivals`, arrival),
  );
  return { partId, lot };
}

/** Opens one of them on a day. */
export function opened(owner: Visitor, lotId: string, openedOn: string | null): Promise<ContainerOpened> {
  return accepted(owner.post<ContainerOpened>(`/api/things/${lotId}/opening`, { openedOn }));
}
