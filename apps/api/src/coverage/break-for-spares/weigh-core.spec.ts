import { decimalFrom } from '@corewright/quantities/decimal';
import type { Money } from '@corewright/quantities/money';
import { paidFor, type WantedComponent, weighCore } from './weigh-core.js';

const wheel = (more: Partial<WantedComponent> = {}): WantedComponent => ({
  partId: 'wheel',
  eachHas: decimalFrom('1'),
  lacking: decimalFrom('3'),
  serviceable: 7,
  looked: 9,
  paid: paidFor('10000', '1'),
  ...more,
});
const minor = (amount: number) => BigInt(amount) as Money;

describe('a core that is weighed', () => {
  it('is better broken where what jobs lack of it, by the share to be expected and what was last paid, outweighs it whole', () => {
    // (1/2 + 7) / (1 + 9) of 100.00
    const weighed = weighCore(minor(7499), [wheel()]);
    expect(weighed).toMatchObject({ spares: 7500n, isBetterBroken: true });
    expect(weighed.words).toContain('think of breaking it');
    expect(weighCore(minor(7500), [wheel()])).toMatchObject({ isBetterBroken: false });
  });

  it('counts no more pieces than it has, and no more than jobs lack', () => {
    const four = { eachHas: decimalFrom('4'), serviceable: 9, looked: 9, paid: paidFor('4000', '4') };
    // 19/20 of 10.00 each
    expect(weighCore(null, [wheel({ ...four, lacking: decimalFrom('9') })]).spares).toBe(3800n);
    expect(weighCore(null, [wheel({ ...four, lacking: decimalFrom('2') })]).spares).toBe(1900n);
  });

  it('reckons in whole numbers and never rounds up', () => {
    // a third of 1.00 at 15/20 is 25 minor units; of 1.01 it is 25.25
    expect(weighCore(null, [wheel({ paid: paidFor('101', '3') })]).spares).toBe(25n);
  });

  it('never takes an unknown worth for nought', () => {
    expect(weighCore(null, [wheel()])).toMatchObject({
      isBetterBroken: false,
      spares: 7500n,
      words: expect.stringContaining('is not known'),
    });
    expect(weighCore(minor(0), [wheel({ paid: null })])).toMatchObject({ isBetterBroken: false, spares: null });
    const some = weighCore(minor(9000), [wheel(), wheel({ partId: 'worm', paid: null })]);
    expect(some).toMatchObject({ isBetterBroken: false, spares: 7500n });
    expect(some.words).toContain('one component that jobs lack has no known worth: nothing can be said');
    const enough = weighCore(minor(5000), [wheel(), wheel({ partId: 'worm', paid: null })]);
    expect(enough).toMatchObject({ isBetterBroken: true, words: expect.stringContaining('worth more already') });
  });

  it('says nothing of a component of which too few were looked at', () => {
    const [weighed] = weighCore(minor(1), [wheel({ serviceable: 4, looked: 4 })]).wanted;
    expect(weighed).toMatchObject({ worth: null, words: '4 of 4 looked at were serviceable: not enough to say what comes out.' });
  });

  it('that nobody lacks anything of is left alone', () => {
    expect(weighCore(minor(1), [])).toMatchObject({
      spares: null,
      isBetterBroken: false,
      words: 'No open job lacks anything that it has.',
    });
  });
});
