import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { whatToBuy } from './what-to-buy.js';

const buy = (have: string, onOrder: string, minimum: string, upTo: string) =>
  formatDecimal(
    whatToBuy({ have: decimalFrom(have), onOrder: decimalFrom(onOrder), minimum: decimalFrom(minimum), upTo: decimalFrom(upTo) }),
  );

describe('how many are to be bought', () => {
  it.each([
    ['less is here than the minimum', '1', '0', '3', '6', '5'],
    ['just the minimum is here', '3', '0', '3', '6', '0'],
    ['enough is on order', '1', '2', '3', '6', '0'],
    ['something is on order, and not enough', '0', '2', '3', '6', '4'],
    ['nothing is here and it is measured', '0.25', '0', '1.5', '2.5', '2.25'],
    ['it is bought up to the minimum', '2', '0', '3', '3', '1'],
  ])('where %s', (_, have, onOrder, minimum, upTo, expected) => {
    expect(buy(have, onOrder, minimum, upTo)).toBe(expected);
  });
});
