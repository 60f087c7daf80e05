import { newId } from '../../apps/api/src/platform/new-id.js';
import { LabelDesk } from './label-changes.js';
import { accepted, type MakeReady } from './write-making.js';

/** Each route that changes labels, or parts and joins lots, with a change that it accepts. */
export const labelWrites: Record<string, MakeReady> = {
  'POST /api/labels/:code/replacement': async ({ owner, stock }) => ({
    path: `/api/labels/${(await stock.lot(null)).code}/replacement`,
    body: { was: 'lost', code: (await new LabelDesk(owner).blanks('lot', 1))[0], note: 'torn off at the press' },
  }),
  'POST /api/labels/:code/further': async ({ stock }) => ({
    path: `/api/labels/${(await stock.unit()).code}/further`,
    body: { code: null, why: 'one for the paperwork' },
  }),
  'POST /api/labels/:code/taking-off': async ({ owner, stock }) => {
    const { code } = await stock.unit();
    await accepted(new LabelDesk(owner).putFurther(code, null));
    return { path: `/api/labels/${code}/taking-off`, body: { why: 'it came off in the bath' } };
  },
  'POST /api/things/:id/splitting': async ({ stock }) => ({
    path: `/api/things/${(await stock.lot(null, { quantity: '3' })).id}/splitting`,
    body: { id: newId(), quantity: '1', placeId: stock.placeId, code: null, why: 'two bags under one label' },
  }),
  'POST /api/things/:id/putting-right': async ({ owner, stock }) => {
    const lot = await stock.lot(null, { quantity: '3' });
    const { lot: made } = await accepted(new LabelDesk(owner).split(lot.id, '1', stock.placeId));
    const facts = {
      partId: null,
      words: 'another bag',
      make: 'unknown',
      makerName: '',
      marks: 'HS 4',
      condition: 'worn',
      packetRead: '1962',
    };
    return {
      path: `/api/things/${made.id}/putting-right`,
      body: { ...facts, packetCondition: 'opened', why: 'read again' },
      ifMatch: 1,
    };
  },
  'POST /api/things/:id/merging': async ({ stock }) => {
    const partId = await stock.part();
    const [goes, stays] = [await stock.lot(partId), await stock.lot(partId)];
    return { path: `/api/things/${goes.id}/merging`, body: { into: stays.code, why: 'one bag that was labelled twice' } };
  },
};
