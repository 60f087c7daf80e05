import type { KitSum } from '@corewright/contracts/pick-list';
import { sayKit, sayKitSum, sayWait } from './say-kit.js';

const pieces: KitSum = {
  unitOfMeasure: 'each',
  needed: '20',
  shares: [
    { state: 'in the tray', quantity: '14' },
    { state: 'to fetch', quantity: '3' },
    { state: 'on order', quantity: '2' },
    { state: 'lacking', quantity: '1' },
  ],
};

describe('how a job’s tray stands, in words', () => {
  it('says of all that is needed how many are in the tray, and where the rest is', () => {
    expect(sayKitSum(pieces)).toBe('14 of 20 in the tray; 3 to fetch; 2 on order; 1 lacking');
  });

  it('says none where the tray is empty, and what is in the unit already last', () => {
    const shares: KitSum['shares'] = [
      { state: 'in the unit', quantity: '0.5' },
      { state: 'lacking', quantity: '1.25' },
    ];
    const metres: KitSum = { unitOfMeasure: 'm', needed: '1.75', shares };
    expect(sayKitSum(metres)).toBe('none of 1.75 m in the tray; 1.25 m lacking; 0.5 m in the unit');
    expect(sayKit({ sums: [pieces, metres] })).toMatch(/1 lacking\. None of 1\.75 m/);
  });

  it('says what is waited for and why', () => {
    const part = { id: 'p', name: 'Worm wheel', number: '310', maker: '' };
    const wait = { lineId: 'l', lineNo: 4, quantity: '2', part, unitOfMeasure: 'each', state: 'on order', thing: null } as const;
    expect(sayWait({ ...wait, words: 'order 71, due 8 Jan' })).toBe('2 on order: order 71, due 8 Jan');
    expect(sayWait({ ...wait, state: 'lacking', words: '' })).toBe('2 lacking');
  });
});
