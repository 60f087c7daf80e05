import { decimalFrom } from '@corewright/quantities/decimal';
import type { Balance } from '../ledger.js';
import { decideAmount, nothingToPutAway } from './decide-put-away.js';

const lying = (quantity: string): Balance => ({ holderId: quantity, kind: 'place', counts: true, quantity, name: 'Bin 4' });

describe('how many are put away', () => {
  it('is all that lies elsewhere, or what was keyed of it', () => {
    expect(decideAmount({ elsewhere: [lying('4'), lying('8')], wanted: null })).toEqual({ ok: true, value: decimalFrom('12') });
    expect(decideAmount({ elsewhere: [lying('4'), lying('8')], wanted: decimalFrom('12') })).toEqual({
      ok: true,
      value: decimalFrom('12'),
    });
    expect(decideAmount({ elsewhere: [lying('4')], wanted: decimalFrom('0.5') })).toEqual({
      ok: true,
      value: decimalFrom('0.5'),
    });
  });
  it('is nothing where nothing lies elsewhere, and never more than does', () => {
    expect(decideAmount({ elsewhere: [], wanted: decimalFrom('1') })).toEqual({ ok: true, value: null });
    const more = decideAmount({ elsewhere: [lying('4')], wanted: decimalFrom('5') });
    expect(more).toMatchObject({
      ok: false,
      error: { code: 'not-enough', detail: expect.stringMatching(/^4 of this lie elsewhere .* 5 were keyed/) },
    });
  });
});

describe('what cannot be put away', () => {
  it.each([
    ['place', 'Stores, Bin 4', /lies in Stores, Bin 4 already/],
    ['unit', 'U 000002 11', /is in U 000002 11\. Take it out there first/],
    ['box', 'box X 000003 11', /Name it out of the box first/],
    ['outworker', 'Strake Grinding', /is at Strake Grinding\. Write down first that it has come back/],
    ['customer', 'R. Sandiman', /was sold, and R\. Sandiman has it/],
    ['supplier', 'Loom Lane Spares', /went back to Loom Lane Spares/],
    ['scrap', 'scrap', /was scrapped/],
    ['count-difference', 'the count', /left us at a count/],
  ])('says of what is in the keeping of a %s where it is and what to do', (holderKind, words, said) => {
    const refusal = nothingToPutAway('Stores, Bin 4', [{ holderKind, words }]);
    expect(refusal).toMatchObject({ status: 409, code: 'nothing-to-put-away', detail: expect.stringMatching(said) });
    expect(refusal.detail).toMatch(/Nothing was changed\.$/);
  });
  it('says so where nothing of it is anywhere', () => {
    expect(nothingToPutAway('Stores, Bin 4', []).detail).toMatch(/none of this is held any more/);
  });
});
