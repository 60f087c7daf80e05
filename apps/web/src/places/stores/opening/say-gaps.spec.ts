import type { OpeningProgress, RackProgress } from '@corewright/contracts/opening-stock';
import { sayGaps } from './say-gaps.js';

const counts = { done: 0, begun: 0, notYet: 0, lying: 0, things: 0, toName: 0, asked: 0, notCosted: 0 };
const shelf = {
  id: 's',
  code: 'P00000105',
  name: '1',
  path: '1',
  state: 'done',
  since: null,
  lying: 0,
  things: 0,
  toName: 0,
  asked: 0,
  notCosted: 0,
} as const;
const rack = (name: string, facts: Partial<RackProgress>): RackProgress => ({
  ...counts,
  id: name,
  name,
  state: 'not yet',
  shelves: [shelf],
  ...facts,
});
const progress = (...racks: RackProgress[]): OpeningProgress => ({ ...counts, started: true, racks });

it('says which racks are not in the books, and how far those are that are begun', () => {
  const said = sayGaps(
    progress(
      rack('Rack A', { state: 'done' }),
      rack('Rack C', {}),
      rack('Rack D', { state: 'begun', done: 1, shelves: [shelf, shelf] }),
    ),
  );
  expect(said).toBe(
    'Rack C is not in the books yet; of Rack D 1 of 2 shelves are in the books. What is not found may lie there.',
  );
});

it('calls nothing unknown where things lie by the books, though nobody has gone through it', () => {
  expect(sayGaps(progress(rack('Rack C', { lying: 4 })))).toBe(
    'Rack C has not been gone through yet. What is not found may lie there.',
  );
});

it('says nothing before it is begun, and when all is done', () => {
  expect(sayGaps(undefined)).toBeNull();
  expect(sayGaps({ ...progress(rack('Rack C', {})), started: false })).toBeNull();
  expect(sayGaps(progress(rack('Rack C', { state: 'done' })))).toBeNull();
});

it('names the first few and counts the rest', () => {
  expect(sayGaps(progress(...['A', 'B', 'C', 'D', 'E'].map((name) => rack(name, {}))))).toContain('2 more racks are open');
});
