import { decimalFrom } from '@corewright/quantities/decimal';
import { isManyTimes, isOdd } from './plausible.js';

const odd = (keyed: string, everHeld = '500', code = 'L00043567') => isOdd(decimalFrom(keyed), decimalFrom(everHeld), code);

describe('a number that has to be keyed once more', () => {
  it.each(['1122', '1212', '11', '44', '3344', '120120'])('is %s: its figures come in pairs', (keyed) => {
    expect(odd(keyed, '999999')).toBe(true);
  });

  it.each(['12', '112', '1223', '100', '1', '0', '121', '12.5', '20'])('is not %s', (keyed) => {
    expect(odd(keyed)).toBe(false);
  });

  it('is one out of the label, if it is long enough not to be chance', () => {
    expect(odd('4356', '9999')).toBe(true);
    expect(odd('435', '9999')).toBe(false);
  });

  it('is more than twenty and ten times what there ever was', () => {
    expect(odd('50', '5')).toBe(true);
    expect(odd('49', '5')).toBe(false);
    expect(odd('20', '0')).toBe(false);
    expect(odd('21', '0')).toBe(true);
    expect(isManyTimes(decimalFrom('1000'), decimalFrom('1'))).toBe(true);
  });
});
