import { whyPosted } from './decide-change.js';

const standing = { standing: 'to name', jobId: null, elsewhere: [], thing: { claimed: '0' } } as const;
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
])('keeps a row that %s', (_, facts, code) => {
  expect(whyPosted({ ...standing, elsewhere: [], ...facts })).toMatchObject({ code, status: 409 });
});
