import type { HeldThing } from '@corewright/contracts/goods-apart';
import { heldGroups } from './held-order.js';

const held = (id: string, reason: string, mayLiftWords: string, lookAgainOn: string | null, keptForOwner = false): HeldThing => ({
  id,
  code: 'L00000001',
  name: id,
  kind: 'lot',
  quantity: '1',
  where: '',
  inQuarantine: false,
  owner: null,
  pictures: 0,
  heldBack: { reason, by: '', since: '2031-01-01T00:00:00Z', mayLift: null, mayLiftWords, lookAgainOn },
  days: 1,
  isDue: false,
  keptForOwner,
  claimed: '0',
});

const things = [
  held('oldest', 'rust', 'whoever keeps the books', null),
  held('second', 'crack', 'Wilf Peskett', '2031-05-01'),
  held('third', 'rust', 'Wilf Peskett', '2031-02-01'),
  held('fourth', 'found', 'whoever keeps the books', null, true),
];
const shape = (order: Parameters<typeof heldGroups>[1]) =>
  heldGroups(things, order).map(({ title, held: group }) => [title, group.map(({ id }) => id)]);

it('lists what is held back by age, by reason, by who may lift it, and by the day to look again', () => {
  expect(shape('age')).toEqual([['Held back', ['oldest', 'second', 'third', 'fourth']]]);
  expect(shape('reason')).toEqual([
    ['crack', ['second']],
    ['found', ['fourth']],
    ['rust', ['oldest', 'third']],
  ]);
  expect(shape('lifter')).toEqual([
    ['Lifted by Wilf Peskett', ['second', 'third']],
    ['Lifted by whoever keeps the books', ['oldest']],
    ['Lifted when its keeping ends', ['fourth']],
  ]);
  expect(shape('day')).toEqual([['Held back', ['third', 'second', 'oldest', 'fourth']]]);
});
