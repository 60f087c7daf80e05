import { decimalFrom } from '@corewright/quantities/decimal';
import { whyPosted } from './decide-change.js';

const lying = { here: decimalFrom('4'), quantity: '4' };
const standing = { standing: 'to name', jobId: null, elsewhere: [], ...lying, thing: { claimed: '0' } } as const;
const tray = { holderId: 't', kind: 'tray', counts: true, quantity: '1', name: 'Tray' } as const;
type Facts = Parameters<typeof whyPosted>[0];

it('lets a row be put right while all of it lies where it was keyed', () => {
  expect(whyPosted({ ...standing, elsewhere: [] })).toBeNull();
});

it.each<[string, Partial<Facts>, string]>([
  ['was struck out', { standing: 'struck out' }, 'struck-out'],
  ['is scrap', { standing: 'scrapped' }, 'scrapped'],
  ['went onto a job', { jobId: 'j' }, 'in-use'],
  ['is promised', { thing: { claimed: '1.0000' } }, 'in-use'],
  ['lies in part in a tray', { elsewhere: [tray] }, 'in-use'],
  ['was counted short since', { here: decimalFrom('3') }, 'counted-since'],
  ['was joined by another lot', { here: decimalFrom('6') }, 'counted-since'],
])('keeps a row that %s', (_, facts, code) => {
  expect(whyPosted({ ...standing, elsewhere: [], ...facts })).toMatchObject({ code, status: 409 });
});
