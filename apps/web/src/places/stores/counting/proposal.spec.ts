import type { CountLine } from '@corewright/contracts/counting';
import { decisionOn, proposalOf } from './proposal.js';

const line = (facts: Partial<CountLine>): CountLine => ({
  place: { id: 'bin', code: 'P00000111', name: 'Bin' },
  thing: { id: 'lot', code: 'L00000111', name: 'Thrust washer' },
  kind: 'lot',
  unitOfMeasure: 'each',
  owner: null,
  state: 'short',
  why: '',
  entries: [],
  counts: [{ quantity: '3', words: '3 by Tom', books: '5' }],
  counted: '3',
  books: '5',
  difference: '-2',
  elsewhere: [],
  worth: null,
  worthWords: '',
  claims: [],
  offered: ['post', 'again', 'leave'],
  doubts: [],
  typed: false,
  decided: null,
  ...facts,
});
const rack = { placeId: 'rack', words: 'Rack', quantity: '2' };

describe('the first choice of a line', () => {
  it('is sent as it was seen', () => {
    expect(proposalOf(line({}))).toEqual({ placeId: 'bin', thingId: 'lot', decision: 'post', counted: '3', books: '5' });
    expect(proposalOf(line({ offered: ['move'], elsewhere: [rack] }))).toMatchObject({ decision: 'move', fromPlaceId: 'rack' });
  });

  it.each<[string, Partial<CountLine>]>([
    ['the number must be typed', { typed: true }],
    ['somebody must say whose number it is', { counts: [...line({}).counts, ...line({}).counts] }],
    ['it lies in several places', { offered: ['move'], elsewhere: [rack, rack] }],
    ['it can only be counted again or left', { offered: ['again', 'leave'] }],
    ['it is decided', { offered: [] }],
  ])('is not done for all where %s', (_, facts) => expect(proposalOf(line(facts))).toBeNull());

  it('takes the number that was chosen', () => {
    const two = line({ counts: [...line({}).counts, { quantity: '2', words: '2 by Ida', books: '4' }] });
    expect(decisionOn(two, 'post', 1)).toMatchObject({ counted: '2', books: '4' });
  });
});
