import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { decideArrival } from './decide-arrival.js';

const order = { orderReference: '4711', quantity: '4.0000', quantityReceived: '1.0000', calledOff: false };

function tryArrival(receipt: typeof order, quantity: string, source: 'new' | 'harvested' | 'this unit' = 'new') {
  const decided = decideArrival(receipt, decimalFrom(quantity), source);
  return decided.ok ? formatDecimal(decided.value.outstanding) : decided.error.code;
}

describe('whether goods may be booked in against an order', () => {
  it('takes part of what is outstanding, and all of it', () => {
    expect(tryArrival(order, '1')).toBe('2');
    expect(tryArrival(order, '3')).toBe('0');
  });

  it('refuses more than is outstanding and says how many are', () => {
    expect(decideArrival(order, decimalFrom('4'), 'new')).toMatchObject({
      ok: false,
      error: { code: 'more-than-ordered', detail: expect.stringContaining('3 are outstanding on order 4711, and 4 were keyed') },
    });
  });

  it('keeps fractions exact', () => {
    expect(tryArrival({ ...order, quantity: '2.5000', quantityReceived: '0.1000' }, '2.4')).toBe('0');
    expect(tryArrival({ ...order, quantity: '2.5000', quantityReceived: '0.1000' }, '2.4001')).toBe('more-than-ordered');
  });

  it('refuses what has come in full, what was called off, and what no supplier sends', () => {
    expect(tryArrival({ ...order, quantityReceived: '4.0000' }, '1')).toBe('more-than-ordered');
    expect(tryArrival({ ...order, calledOff: true }, '1')).toBe('called-off');
    expect(tryArrival(order, '1', 'harvested')).toBe('bad-input');
    expect(tryArrival(order, '1', 'this unit')).toBe('bad-input');
  });
});
