import type { DecideCountLine } from '@corewright/contracts/counting';
import { type Decimal, decimalFrom, subtractDecimals } from '@corewright/quantities/decimal';
import type { Line } from '../lines.js';
import { decideLine } from './decide-line.js';

interface Facts {
  counted?: string;
  books?: string;
  there?: string;
  thing?: Partial<Line['thing']>;
  line?: Partial<Line>;
}

function lineWith({ counted = '3', books = '5', there = books, thing = {}, line = {} }: Facts): Line {
  const difference = subtractDecimals(decimalFrom(counted), decimalFrom(books));
  const state = difference < 0n ? (counted === '0' ? 'missing' : 'short') : 'found';
  const taken = { quantity: decimalFrom(counted), words: '', personId: 'tom', at: 0, books: decimalFrom(books), difference };
  return {
    placeId: 'bin',
    thingId: 'lot',
    state,
    counted: { state, standing: [], taken: [taken] },
    thing: {
      id: 'lot',
      code: 'L00000011',
      name: 'Thrust washer',
      kind: 'L',
      unitOfMeasure: 'each',
      ownerId: null,
      owner: null,
      held: books,
      awaited: '0',
      claimed: '0',
      isMissing: false,
      ...thing,
    },
    isTray: false,
    elsewhere: [],
    there,
    turns: 0,
    decided: null,
    isOpen: true,
    ...line,
  } as Line;
}

const decided = (facts: Facts, input: Partial<DecideCountLine> = {}, claimants: string[] = []) => {
  const { counted = '3', books = '5' } = facts;
  return decideLine({
    line: lineWith(facts),
    input: { placeId: 'bin', thingId: 'lot', decision: 'post', counted, books, fromPlaceId: null, typed: '', why: '', ...input },
    claimants,
    inTray: null,
  });
};
const pieces = (count: number): Decimal => (BigInt(count) * 10_000n) as Decimal;

describe('a line of a count', () => {
  it('goes out where it is short, and comes in where it was found', () => {
    expect(decided({})).toMatchObject({ ok: true, value: { kind: 'out', quantity: pieces(2) } });
    expect(decided({ counted: '7' })).toMatchObject({ ok: true, value: { kind: 'in', quantity: pieces(2) } });
  });

  it.each<[string, Facts, Partial<DecideCountLine>, string, RegExp]>([
    ['is another than was seen', {}, { counted: '4' }, 'changed-meanwhile', /not what you saw/],
    [
      'is promised to a job',
      { thing: { claimed: '4' } },
      {},
      'in-use',
      /reserved for J 000107 81, and 3 would be left\. Release/,
    ],
    ['was taken since', { there: '1' }, {}, 'gone-meanwhile', /1 lie there by now/],
    [
      'is a customer’s',
      { thing: { ownerId: 'x', owner: 'R. Sandiman' } },
      {},
      'cannot-be-decided-so',
      /R\. Sandiman’s: it is never written off without the owner’s word/,
    ],
    ['is a unit', { counted: '0', books: '1', thing: { kind: 'U' } }, {}, 'cannot-be-decided-so', /not among it/],
    [
      'is hard to believe',
      { counted: '1000', books: '1' },
      { typed: '100' },
      'type-the-number',
      /1000 were counted where the books held 1/,
    ],
    ['has been decided', { line: { isOpen: false } }, {}, 'line-decided', /by now/],
    ['is left without a reason', {}, { decision: 'leave' }, 'why-missing', /Say why/],
  ])('is not posted where it %s', (_, facts, input, code, words) => {
    const answer = decided(facts, input, ['J 000107 81']);
    expect(answer).toMatchObject({ ok: false, error: { status: 409, code } });
    expect(answer.ok ? '' : answer.error.detail).toMatch(words);
    expect(answer.ok ? '' : answer.error.detail).toMatch(/Nothing was changed\.$/);
  });

  it('is posted however odd once the number is typed', () => {
    expect(decided({ counted: '1000', books: '1' }, { typed: '1000' })).toMatchObject({
      ok: true,
      value: { kind: 'in', quantity: pieces(999) },
    });
  });

  it('is moved from where the books have it, and no more than lies there', () => {
    const elsewhere = [{ placeId: 'rack', thingId: 'lot', words: 'Rack 2', quantity: '2', isTray: false }];
    const line = { state: 'lies elsewhere by the books' as const, elsewhere };
    expect(decided({ counted: '3', books: '0', line }, { decision: 'move', fromPlaceId: 'rack' })).toMatchObject({
      ok: true,
      value: { kind: 'move', quantity: pieces(2), fromPlaceId: 'rack' },
    });
    expect(decided({ counted: '3', books: '0', line }, { decision: 'move', fromPlaceId: 'yard' })).toMatchObject({ ok: false });
  });

  it('is marked missing, counted again or left with a reason', () => {
    const none: Facts = { counted: '0', thing: { kind: 'U' } };
    expect(decided(none, { decision: 'missing' })).toMatchObject({ ok: true, value: { kind: 'missing' } });
    expect(decided(none, { decision: 'again' })).toMatchObject({ ok: true, value: { kind: 'again' } });
    expect(decided(none, { decision: 'leave', why: 'lent to Ida' })).toMatchObject({ ok: true, value: { kind: 'left' } });
  });

  it('in the tray of a job goes out with what the job was promised of it, and never comes in by a count', () => {
    const claims = [{ id: 'claim', claimantId: 'job', purposeId: 'line', quantity: '5', until: null, madeById: null }];
    const inTray = { jobId: 'job', claims };
    const input = { placeId: 'bin', thingId: 'lot', decision: 'post', fromPlaceId: null, typed: '', why: '' } as const;
    const tray = { thing: { claimed: '5' }, line: { isTray: true } };
    const short = decideLine({ line: lineWith(tray), input: { ...input, counted: '3', books: '5' }, claimants: [], inTray });
    expect(short).toMatchObject({
      ok: true,
      value: { kind: 'out', quantity: pieces(2), leaving: [{ claimId: 'claim', quantity: pieces(2) }] },
    });
    const more = lineWith({ ...tray, counted: '7' });
    expect(decideLine({ line: more, input: { ...input, counted: '7', books: '5' }, claimants: [], inTray })).toMatchObject({
      ok: false,
      error: { code: 'cannot-be-decided-so', detail: expect.stringContaining('Scan it onto the job') },
    });
  });
});
