import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { planUsualFate } from './give-usual-fate/plan-usual-fate.js';
import { fateOf } from './record-finding/fate.js';
import { type ComponentState, type StandingFinding, seenOfPart, toLookAtOf, undecidedOf } from './strip-state.js';

const many = (text: string) => decimalFrom(text);

const finding = (facts: Partial<StandingFinding> & { many?: string }): StandingFinding => ({
  id: 'finding',
  position: 1,
  name: 'Pinions',
  kind: 'as expected',
  quantity: many(facts.many ?? '1'),
  partId: 'pinion',
  finding: '',
  words: '',
  disposition: 're-use here',
  lookedAt: true,
  stamped: '',
  thingId: null,
  ...facts,
});

const pinions = (facts: Partial<ComponentState> = {}): ComponentState => ({
  position: 1,
  name: 'Pinions',
  quantity: many('4'),
  partId: 'pinion',
  mustBeLookedAt: false,
  usualFate: 're-use here',
  keptSet: '',
  keepsThickness: false,
  isExtra: false,
  takenBefore: many('0'),
  standing: [],
  ...facts,
});

describe('what is left to decide of a component', () => {
  it('is what has neither a finding nor a tag from before', () => {
    const component = pinions({ takenBefore: many('1'), standing: [finding({ many: '2' })] });
    expect(formatDecimal(undecidedOf(component))).toBe('1');
    expect(formatDecimal(toLookAtOf(component))).toBe('0');
  });

  it('must still be looked at where its type says so, whatever fate it has', () => {
    const component = pinions({ mustBeLookedAt: true, standing: [finding({ many: '3', lookedAt: false }), finding({})] });
    expect(formatDecimal(undecidedOf(component))).toBe('0');
    expect(formatDecimal(toLookAtOf(component))).toBe('3');
  });
});

describe('what a job may count on', () => {
  it.each([
    ['re-use here', '1', '0'],
    ['left in place', '1', '0'],
    ['to stores', '0', '1'],
    ['replace', '0', '1'],
    ['scrap', '0', '1'],
    ['hold', '0', '0'],
    ['send out', '0', '0'],
    ['re-use after rework', '0', '0'],
  ] as const)('of one that is “%s”: %s again, %s gone', (disposition, reused, gone) => {
    const seen = seenOfPart([pinions({ standing: [finding({ disposition })] })], 'pinion');
    expect([formatDecimal(seen.reused), formatDecimal(seen.gone)]).toEqual([reused, gone]);
  });

  it('nothing of what is missing or wrong, and nothing of another part', () => {
    const standing = [finding({ kind: 'missing', disposition: null }), finding({ kind: 'wrong', disposition: 're-use here' })];
    const seen = seenOfPart([pinions({ standing })], 'pinion');
    expect([formatDecimal(seen.reused), formatDecimal(seen.gone)]).toEqual(['0', '2']);
    expect(seenOfPart([pinions({ standing })], 'worm')).toMatchObject({ words: '' });
  });
});

describe('the usual fate', () => {
  const state = { isCustomers: false, ownersWord: '', alwaysReplaced: new Set<string>() };
  const whyLeft = (facts: Partial<ComponentState>, more: Partial<typeof state> = {}) =>
    planUsualFate({ ...state, ...more, components: [pinions(facts)] }).remaining[0]?.why;

  it('is given to what is left, and to no more', () => {
    const plan = planUsualFate({ ...state, components: [pinions({ standing: [finding({ many: '3' })] })] });
    expect(plan.give.map((each) => [formatDecimal(each.quantity), each.disposition])).toEqual([['1', 're-use here']]);
    expect(planUsualFate({ ...state, components: [pinions({ standing: [finding({ many: '4' })] })] })).toEqual({
      give: [],
      remaining: [],
    });
  });

  it.each([
    ['somebody must look at it', { mustBeLookedAt: true }, {}],
    ['its type says no usual fate', { usualFate: null }, {}],
    ['say to whom it goes', { usualFate: 'send out' }, {}],
    ['measure its thickness', { usualFate: 'to stores', keepsThickness: true }, {}],
    ['it belongs to a set: say why it goes', { usualFate: 'scrap', keptSet: 'wheel and pinion' }, {}],
    ['it is the customer’s: they have not said', { usualFate: 'scrap' }, { isCustomers: true }],
    ['the job always replaces it', {}, { alwaysReplaced: new Set(['pinion']) }],
  ] as [string, Partial<ComponentState>, Partial<typeof state>][])('is not given where “%s”', (why, facts, more) => {
    expect(whyLeft(facts, more)).toBe(why);
  });

  it('of a customer’s goods is given on their word', () => {
    expect(whyLeft({ usualFate: 'scrap' }, { isCustomers: true, ownersWord: 'Mr Sandiman' })).toBeUndefined();
  });
});

describe('where a fate leads', () => {
  const asked = { isCustomers: false, ownersWord: '', hasJob: false, hasPlace: true, found: 'stepped' };

  it('re-used here goes into the tray of the job unless a place was named', () => {
    expect(fateOf({ ...asked, disposition: 're-use here', hasJob: true, hasPlace: false })).toMatchObject({
      to: 'tray',
      isForJob: true,
    });
    expect(fateOf({ ...asked, disposition: 're-use here', hasJob: true })).toMatchObject({ to: 'place', isForJob: true });
  });

  it('a customer’s old part is kept for them until they have spoken', () => {
    expect(fateOf({ ...asked, disposition: 'replace', isCustomers: true })).toMatchObject({ to: 'place' });
    expect(fateOf({ ...asked, disposition: 'replace', isCustomers: true, ownersWord: 'R. Sandiman' })).toMatchObject({
      to: 'scrap',
    });
    expect(fateOf({ ...asked, disposition: 'replace' })).toMatchObject({ to: 'scrap' });
  });

  it('what is held says what was found', () => {
    expect(fateOf({ ...asked, disposition: 'hold' })).toMatchObject({ heldBack: 'to be decided: stepped' });
  });
});
