import { decimalFrom } from '@corewright/quantities/decimal';
import { decideSplit, type ToSplit } from './decide-split.js';

const lot = (facts: Partial<ToSplit> = {}): ToSplit => ({
  kind: 'L',
  isMissing: false,
  isOfKeptSet: false,
  isKeptForOwner: false,
  there: { words: 'Bin 4', quantity: decimalFrom('10') },
  held: decimalFrom('10'),
  awaited: decimalFrom('0'),
  claimed: decimalFrom('6'),
  claims: ['6 for Overhead-worm axle'],
  quantity: decimalFrom('4'),
  ...facts,
});

describe('a bag that turns out to be two', () => {
  it('is split as far as what stays can bear what is promised of it', () => {
    expect(decideSplit(lot())).toEqual({ ok: true, value: null });
    expect(decideSplit(lot({ quantity: decimalFrom('5') }))).toMatchObject({
      ok: false,
      error: { code: 'claimed-for-another-job', detail: expect.stringContaining('6 for Overhead-worm axle') },
    });
    expect(decideSplit(lot({ quantity: decimalFrom('5'), awaited: decimalFrom('1') }))).toMatchObject({
      ok: true,
    });
  });

  it.each([
    ['a component', { kind: 'C' as const }, 'not-a-lot'],
    ['of a kept set', { isOfKeptSet: true }, 'of-a-kept-set'],
    ['kept for its owner', { isKeptForOwner: true }, 'kept-for-owner'],
    ['missing', { isMissing: true }, 'missing'],
    ['not in that place', { there: null }, 'not-in-stores'],
    ['more than lies there', { quantity: decimalFrom('11') }, 'not-enough'],
    ['all of it', { quantity: decimalFrom('10'), claimed: decimalFrom('0') }, 'all-of-it'],
  ])('is refused where it is %s', (_, facts, code) => {
    expect(decideSplit(lot(facts))).toMatchObject({ ok: false, error: { status: 409, code } });
  });
});
