import { sayChange, sayMoney } from './say-money.js';

describe('an amount of money for people', () => {
  it.each([
    ['1250.00', 'GBP', '£1,250.00'],
    ['-0.05', 'GBP', '−£0.05'],
    ['99999999999.99', 'GBP', '£99,999,999,999.99'],
    ['9007199254740993.01', 'EUR', '€9,007,199,254,740,993.01'],
    ['1250', 'JPY', 'JP¥1,250'],
    ['1.005', 'KWD', 'KWD 1.005'],
  ])('%s %s is %s', (amount, currency, said) => {
    expect(sayMoney(amount, currency).replace(/\u00a0/g, ' ')).toBe(said);
  });

  it('that changes has its sign', () => {
    expect(sayChange('3.20', 'GBP')).toBe('+£3.20');
    expect(sayChange('-3.20', 'GBP')).toBe('−£3.20');
  });
});
