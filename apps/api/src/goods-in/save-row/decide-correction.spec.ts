import { type Decimal, decimalFrom } from '@corewright/quantities/decimal';
import { decideCorrection, decidePlaceMove, type Shelf } from './decide-correction.js';
import { decideLine } from './decide-line.js';

const many = (text: string): Decimal => decimalFrom(text);
const shelf = (placeId: string, quantity: string): Shelf => ({ placeId, quantity: many(quantity) });

describe('a count put right', () => {
  const base = { sellerId: 'seller', received: many('6'), putIn: 'bin', shelves: [shelf('rack', '2'), shelf('bin', '3')] };

  it('moves nothing where it was right', () => {
    expect(decideCorrection({ ...base, wanted: many('6') })).toEqual({ ok: true, value: [] });
  });

  it('takes more from the seller to where goods-in put it', () => {
    expect(decideCorrection({ ...base, wanted: many('7.5') })).toEqual({
      ok: true,
      value: [{ fromHolderId: 'seller', toHolderId: 'bin', quantity: many('1.5') }],
    });
  });

  it('gives the surplus back from where goods-in put it first, then from elsewhere', () => {
    expect(decideCorrection({ ...base, wanted: many('2') })).toEqual({
      ok: true,
      value: [
        { fromHolderId: 'bin', toHolderId: 'seller', quantity: many('3') },
        { fromHolderId: 'rack', toHolderId: 'seller', quantity: many('1') },
      ],
    });
  });

  it('does not take back what is in use, and says how many that are', () => {
    const answer = decideCorrection({ ...base, wanted: many('0.5') });
    expect(answer).toMatchObject({ ok: false, error: { code: 'in-use', status: 409 } });
    expect(answer.ok ? '' : answer.error.detail).toMatch(/^1 of this are picked/);
  });
});

describe('a place put right', () => {
  const base = { putIn: 'bin', goodsIn: 'goods-in', shelves: [shelf('bin', '3')] };

  it('moves what lies where goods-in put it', () => {
    expect(decidePlaceMove({ ...base, keyed: 'rack' })).toEqual({ ok: true, value: { to: 'rack', quantity: many('3') } });
  });

  it('moves it to goods-in when the cell is emptied', () => {
    expect(decidePlaceMove({ ...base, keyed: null })).toEqual({ ok: true, value: { to: 'goods-in', quantity: many('3') } });
    expect(decidePlaceMove({ ...base, keyed: null, goodsIn: null })).toEqual({
      ok: true,
      value: { to: null, quantity: many('3') },
    });
  });

  it.each([
    ['the same place', { ...base, keyed: 'bin' }],
    ['no place, as before', { ...base, putIn: 'goods-in', shelves: [shelf('goods-in', '3')], keyed: null }],
    ['the old place, after somebody put it away', { ...base, shelves: [shelf('rack', '3')], keyed: 'bin' }],
    ['no place, after somebody put it away', { ...base, putIn: 'bin', shelves: [shelf('rack', '3')], keyed: null }],
    ['where somebody put it', { ...base, shelves: [shelf('rack', '3')], keyed: 'rack' }],
  ])('moves nothing for %s', (_, input) => {
    expect(decidePlaceMove(input)).toEqual({ ok: true, value: null });
  });

  it('refuses a third place once it was put away', () => {
    expect(decidePlaceMove({ ...base, shelves: [shelf('rack', '3')], keyed: 'yard' })).toMatchObject({
      ok: false,
      error: { code: 'moved-since' },
    });
  });
});

describe('the line of a row', () => {
  it('is the one keyed where it is free, else the next free one', () => {
    expect(decideLine(3, new Set([1, 2]))).toBe(3);
    expect(decideLine(3, new Set([3, 4, 6]))).toBe(5);
  });
});
