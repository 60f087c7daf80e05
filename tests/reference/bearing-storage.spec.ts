import {
  type BearingStore,
  bearingInspection,
  bearingStorageState,
  type StoredBearing,
} from '@corewright/standards/bearing-storage';

const open: StoredBearing = {
  packing: 'open-preserved',
  store: 'dry',
  isClosed: true,
  packedEarliest: '2010-03-01',
  inspectedOn: null,
};
const stateOn = (over: Partial<StoredBearing>, day: string) => bearingStorageState({ ...open, ...over }, day).state;

it.each([
  ['65 % humidity, 20 to 25 °C', 'dry', 10],
  ['75 % humidity, 20 to 25 °C', 'humid', 5],
  ['75 % humidity, 35 to 40 °C', 'humid-warm', 3],
  ['uncontrolled, tropical', 'uncontrolled', 1],
] as const)(
  'open, preserved, %s: %s keeps %i years (tpsbearing.com, catalogue p. 59, a maker’s own table)',
  (_, store, years) => {
    const lastDay = `${2010 + years}-02-28`;
    const endsOn = `${2010 + years}-03-01`;
    expect(bearingStorageState({ ...open, store: store as BearingStore }, lastDay)).toMatchObject({ state: 'in-life', endsOn });
    expect(stateOn({ store: store as BearingStore }, endsOn)).toBe('look-again');
  },
);

it('greased behind seals: the least of 2, 3 or 5 years (bearingtips.com), and an inspection does not extend it', () => {
  const greased = { packing: 'sealed-greased', inspectedOn: '2012-02-01' } as const;
  expect(stateOn(greased, '2012-02-28')).toBe('in-life');
  expect(stateOn(greased, '2012-03-01')).toBe('past');
});

describe('by the least favourable reading (our own rule)', () => {
  it('counts the shortest period when nobody knows how it was stored', () => {
    expect(stateOn({ store: null }, '2011-02-28')).toBe('in-life');
    expect(bearingStorageState({ ...open, store: null }, '2011-03-01')).toMatchObject({
      state: 'look-again',
      reasons: [expect.anything(), 'How it was stored is not known, so the shortest period counts: 1 year.'],
    });
  });

  it('is unknown without a date, until somebody inspects it', () => {
    expect(stateOn({ packedEarliest: null }, '2020-01-01')).toBe('unknown');
    expect(stateOn({ packedEarliest: null, inspectedOn: '2019-06-01' }, '2020-01-01')).toBe('in-life');
  });

  it('is unknown within its period when its packing is not closed, and over when the period is, all the same', () => {
    expect(stateOn({ isClosed: false }, '2019-01-01')).toBe('unknown');
    expect(stateOn({ isClosed: false }, '2020-03-01')).toBe('look-again');
    expect(stateOn({ isClosed: false, inspectedOn: '2018-01-01' }, '2019-01-01')).toBe('in-life');
  });

  it('is over for certain only where no other way of storing would have kept it longer', () => {
    const isOver = (over: Partial<StoredBearing>, day: string) => bearingStorageState({ ...open, ...over }, day).isOver;
    expect(isOver({ store: 'humid-warm' }, '2013-03-01')).toBe(true);
    expect(isOver({ store: null }, '2013-03-01')).toBe(false);
    expect(isOver({ store: null }, '2020-02-29')).toBe(false);
    expect(isOver({ store: null }, '2020-03-01')).toBe(true);
    expect(isOver({ packing: 'sealed-greased', store: null }, '2012-03-01')).toBe(true);
    expect(isOver({ packedEarliest: null }, '2060-01-01')).toBe(false);
  });

  it('gives another period to what can be looked at, and none behind seals', () => {
    expect(bearingInspection('open-preserved').ok).toBe(true);
    expect(bearingInspection('sealed-greased')).toMatchObject({ ok: false, error: { code: 'behind-seals' } });
  });

  it('begins another period with an inspection, and not before it', () => {
    expect(stateOn({ inspectedOn: '2021-05-01' }, '2021-04-30')).toBe('look-again');
    expect(stateOn({ inspectedOn: '2021-05-01' }, '2021-05-01')).toBe('in-life');
    expect(stateOn({ inspectedOn: '2021-05-01' }, '2031-05-01')).toBe('look-again');
  });
});
