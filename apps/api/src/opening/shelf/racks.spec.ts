import { type PlaceFacts, racksOf, totalsOf } from './racks.js';

const place = (id: string, facts: Partial<PlaceFacts> = {}): PlaceFacts => ({
  id,
  code: `P${id}`,
  name: id,
  path: id,
  parentId: null,
  kind: 'bin',
  lastAct: null,
  actAt: null,
  rows: 0,
  lying: 0,
  things: 0,
  toName: 0,
  asked: 0,
  notCosted: 0,
  ...facts,
});

const workshop = [
  place('stores', { kind: 'site' }),
  place('A', { kind: 'rack', parentId: 'stores' }),
  place('A1', { parentId: 'A', lastAct: 'done', actAt: '2026-11-01T10:00:00.000Z', rows: 2, things: 2, toName: 1, notCosted: 2 }),
  place('A2', { parentId: 'A', lastAct: 'opened again', actAt: '2026-11-02T10:00:00.000Z', rows: 1, things: 1, asked: 1 }),
  place('A3', { parentId: 'A' }),
  place('floor', { kind: 'area', parentId: 'stores' }),
  place('yard', { kind: 'area' }),
];

it('puts each shelf under its rack, else under what it stands in, else by itself', () => {
  const racks = racksOf(workshop);
  expect(racks.map(({ id, shelves }) => [id, shelves.map((shelf) => shelf.id)])).toEqual([
    ['A', ['A1', 'A2', 'A3']],
    ['stores', ['floor']],
    ['yard', ['yard']],
  ]);
});

it('counts what is done, begun and left, and says from when a shelf is trusted', () => {
  const [rack] = racksOf(workshop);
  expect(rack).toMatchObject({ state: 'begun', done: 1, begun: 1, notYet: 1, things: 3, toName: 1, asked: 1, notCosted: 2 });
  expect(rack!.shelves.map(({ state, since }) => [state, since])).toEqual([
    ['done', '2026-11-01T10:00:00.000Z'],
    ['begun', null],
    ['not yet', null],
  ]);
  expect(totalsOf(racksOf(workshop))).toMatchObject({ done: 1, begun: 1, notYet: 3, things: 3 });
});

it('counts a place with others inside it only where something lies in it by itself', () => {
  const racks = racksOf([place('B', { kind: 'rack', rows: 1, things: 1, lastAct: 'begun' }), place('B1', { parentId: 'B' })]);
  expect(racks[0]!.shelves.map(({ id }) => id)).toEqual(['B', 'B1']);
});

it('says that a rack is done when all of it is', () => {
  const done = { lastAct: 'done', actAt: '2026-11-01T10:00:00.000Z' } as const;
  expect(racksOf([place('C', { kind: 'rack', ...done }), place('C1', { parentId: 'C', ...done })])[0]!.state).toBe('done');
});
