import { NameOpeningRow } from '@corewright/contracts/opening-stock';
import { type NamingKeyed, namingSaid, whatIsWanting } from './naming-keyed.js';

const keyed: NamingKeyed = {
  text: '',
  referenceId: null,
  words: 'pinion nuts',
  source: 'old stock',
  make: 'unknown',
  makerName: '',
  condition: '',
  grade: '',
  marks: '',
  packetRead: '',
  packetCondition: 'none',
  pieceCount: '',
  note: '',
  costStanding: 'none',
  cost: '',
};

it('says nothing of a cost that nobody spoke of, and unknown without an amount', () => {
  expect(namingSaid('lot', keyed)).toMatchObject({ cost: null, source: 'old stock' });
  expect(namingSaid('lot', { ...keyed, costStanding: 'unknown', cost: '7' })).toMatchObject({
    cost: { standing: 'unknown', amount: '' },
  });
});

it.each(['lot', 'unit', 'unsorted'] as const)('is what the server takes of a %s', (kind) => {
  expect(NameOpeningRow.safeParse(namingSaid(kind, { ...keyed, costStanding: 'estimate', cost: '3.50' })).success).toBe(true);
});

it('asks for what is wanting', () => {
  expect(whatIsWanting('lot', keyed)).toBeNull();
  expect(whatIsWanting('lot', { ...keyed, text: '48-22' })).toContain('Choose from the list');
  expect(whatIsWanting('lot', { ...keyed, words: '' })).toContain('Say what it is');
  expect(whatIsWanting('lot', { ...keyed, costStanding: 'figure' })).toContain('what all of it cost');
});
