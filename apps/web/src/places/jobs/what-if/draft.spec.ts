import { emptyDraft, suppositionOf } from './draft.js';

const order = { id: 'a-receipt', label: 'order 219' };

describe('a supposition that is put together', () => {
  it('counts weeks as days', () => {
    expect(suppositionOf({ ...emptyDraft, kind: 'order', order, count: '3', span: 'weeks' })).toEqual({
      kind: 'order-late',
      receiptId: 'a-receipt',
      days: 21,
    });
  });

  it.each(['', '0', '-2', 'two', '1.5', '9999'])('asks again for "%s" weeks', (count) => {
    expect(suppositionOf({ ...emptyDraft, kind: 'order', order, count })).toMatch(/how many/);
  });

  it('takes an order on a day, and not at all', () => {
    expect(suppositionOf({ ...emptyDraft, kind: 'order', order, comes: 'on', on: '2027-02-01' })).toEqual({
      kind: 'order-on',
      receiptId: 'a-receipt',
      on: '2027-02-01',
    });
    expect(suppositionOf({ ...emptyDraft, kind: 'order', order, comes: 'on' })).toMatch(/day/);
    expect(suppositionOf({ ...emptyDraft, kind: 'order', order, comes: 'never' })).toEqual({
      kind: 'order-never',
      receiptId: 'a-receipt',
    });
  });

  it('says what is still to be chosen', () => {
    for (const kind of ['first', 'core', 'order', 'instead', 'instead-everywhere', 'standard'] as const)
      expect(suppositionOf({ ...emptyDraft, kind })).toMatch(/^Choose/);
  });
});
