import { type Decimal, decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { leavingClaims } from './leaving-claims.js';
import type { Claim } from './ledger.js';

const claim = (id: string, quantity: string): Claim => ({
  id,
  claimantId: 'job',
  purposeId: `line of ${id}`,
  quantity,
  until: null,
  madeById: null,
});
const many = (text: string): Decimal => decimalFrom(text);
const short = (leaving: ReturnType<typeof leavingClaims>) =>
  leaving.map(({ claimId, quantity, stays }) => [claimId, formatDecimal(quantity), formatDecimal(stays)]);

describe('the claims that leave a tray', () => {
  it('are those on what lies in it; what is reserved beside it is left alone', () => {
    expect(short(leavingClaims([claim('a', '2'), claim('b', '3')], many('3'), many('3'), many('0')))).toEqual([
      ['a', '2', '0'],
      ['b', '1', '0'],
    ]);
  });

  it('are those made last where only a part goes back', () => {
    expect(short(leavingClaims([claim('a', '2'), claim('b', '1')], many('3'), many('2'), many('0')))).toEqual([
      ['a', '1', '0'],
      ['b', '1', '0'],
    ]);
  });

  it('stay reserved as far as they were before', () => {
    expect(short(leavingClaims([claim('a', '2'), claim('b', '1')], many('3'), many('3'), many('1')))).toEqual([
      ['a', '2', '1'],
      ['b', '1', '0'],
    ]);
  });

  it('are none where nobody claimed what lies there', () => {
    expect(leavingClaims([], many('2'), many('2'), many('0'))).toEqual([]);
    expect(short(leavingClaims([claim('a', '1')], many('3'), many('2'), many('0')))).toEqual([]);
  });
});
