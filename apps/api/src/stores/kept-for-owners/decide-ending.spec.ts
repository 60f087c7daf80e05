import type { EndKept } from '@corewright/contracts/goods-apart';
import { type EndingStanding, whyNotEnded } from './decide-ending.js';
import { whyNotKept, whyNotThatDay } from './decide-keeping.js';

const known: EndingStanding = { kind: 'to be collected', isOwnerKnown: true, isEnded: false, condemned: false, named: null };
const unknown: EndingStanding = { ...known, kind: 'found property', isOwnerKnown: false };
const field = (standing: EndingStanding, keyed: Partial<EndKept> & Pick<EndKept, 'how'>) => {
  const fault = whyNotEnded(standing, { words: 'signed', restsOn: '', ownerName: '', price: '', ...keyed });
  if (fault === null) return 'may be';
  const fields = fault.values?.fields as { path: string }[] | undefined;
  return fields?.[0]?.path ?? fault.code;
};

describe('the end of a keeping', () => {
  it('of a customer’s thing: collected or bought; given away and scrapped on the owner’s word', () => {
    for (const how of ['collected', 'bought'] as const) expect(field(known, { how })).toBe('may be');
    for (const how of ['given away', 'scrapped'] as const) {
      expect(field(known, { how })).toBe('restsOn');
      expect(field(known, { how, restsOn: 'by letter' })).toBe('may be');
    }
    expect(field(known, { how: 'claimed', ownerName: 'Pell' })).toBe('how');
    expect(field(known, { how: 'collected', ownerName: 'Pell' })).toBe('ownerName');
    expect(field({ ...known, condemned: true }, { how: 'bought' })).toBe('how');
  });

  it('of found property: claimed by a customer who is named, else on what is written down', () => {
    for (const how of ['collected', 'bought'] as const) expect(field(unknown, { how })).toBe('how');
    expect(field(unknown, { how: 'claimed' })).toBe('ownerName');
    expect(field(unknown, { how: 'claimed', ownerName: 'Nobody' })).toBe('ownerName');
    expect(field({ ...unknown, named: { id: 'pell' } }, { how: 'claimed', ownerName: 'Pell' })).toBe('may be');
    expect(field(unknown, { how: 'scrapped' })).toBe('restsOn');
    expect(field(unknown, { how: 'given away', restsOn: 'advice taken' })).toBe('may be');
  });

  it('comes once', () => {
    expect(field({ ...known, isEnded: true }, { how: 'collected' })).toBe('ended-already');
  });
});

describe('a keeping', () => {
  const free = { ownerId: 'pell', keptForOwner: false, condemned: false, claimed: '0', isHere: true, isInUse: false };

  it('is of a customer’s thing that lies here and is used for nothing, and once', () => {
    const code = (part: Partial<typeof free>) => whyNotKept({ ...free, ...part })?.code ?? null;
    expect(code({})).toBeNull();
    expect(whyNotKept({ ...free, ownerId: null })?.code).toBe('ours');
    expect(code({ keptForOwner: true })).toBe('kept-already');
    expect(code({ condemned: true })).toBe('condemned');
    expect(code({ claimed: '1' })).toBe('in-use');
    expect(code({ isInUse: true })).toBe('in-use');
    expect(code({ isHere: false })).toBe('not-here');
  });

  it('is looked at again today or later', () => {
    expect(whyNotThatDay('2031-03-03', '2031-03-03')).toBeNull();
    expect(whyNotThatDay('2031-03-02', '2031-03-03')?.code).toBe('bad-input');
  });
});
