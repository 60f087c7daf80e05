import { emptyReceipt, isQuantity, withLine, withoutLine, withThing } from './receipt-draft.js';

const seal = { thingId: 'seal', code: 'L00000112', name: 'Oil seal' };
const shim = { thingId: 'shim', code: 'L00000209', name: 'Shim' };

describe('what stands on a receipt before it is sold', () => {
  it('has a line for each label, and one more for each further scan of it', () => {
    const draft = withThing(withThing(withThing(emptyReceipt(), seal), shim), seal);
    expect(draft.lines.map(({ name, quantity, price }) => [name, quantity, price])).toEqual([
      ['Oil seal', '2', ''],
      ['Shim', '1', ''],
    ]);
  });

  it('keeps a measure as it was keyed when it is scanned again', () => {
    const draft = withThing(withLine(withThing(emptyReceipt(), seal), 'seal', { quantity: '0.5' }), seal);
    expect(draft.lines[0]?.quantity).toBe('0.5');
  });

  it('may lose a line again', () => {
    expect(withoutLine(withThing(withThing(emptyReceipt(), seal), shim), 'seal').lines).toHaveLength(1);
  });

  it.each([
    ['2', true],
    ['0.25', true],
    ['0', false],
    ['', false],
    ['2,5', false],
    ['1.23456', false],
  ])('asks about %s: %s', (text, isAsked) => {
    expect(isQuantity(text)).toBe(isAsked);
  });
});
