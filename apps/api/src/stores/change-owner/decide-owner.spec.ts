import { unknownOwnerId } from '../ledger.js';
import { decideOwner, type OwnerStanding } from './decide-owner.js';

const named = { id: 'ockley', name: 'Ockley and Sons' };
const ours: OwnerStanding = {
  ownerId: null,
  ownerName: null,
  condemned: false,
  keptForOwner: false,
  claimed: '0',
  job: null,
  isBound: false,
  isInUse: false,
  named,
};
const theirs: OwnerStanding = { ...ours, ownerId: 'pell', ownerName: 'Pell Motors', named: null };
const decide = (standing: OwnerStanding, how: Parameters<typeof decideOwner>[1]['how'], ownerName = '') => {
  const decided = decideOwner(standing, { how, ownerName });
  return decided.ok ? decided.value : decided.error.code;
};

describe('whose a thing becomes', () => {
  it('is ours by a purchase or a gift, though jobs count on it', () => {
    for (const how of ['bought', 'given to us'] as const) {
      expect(decide(theirs, how)).toBeNull();
      expect(decide({ ...theirs, claimed: '1' }, how)).toBeNull();
      expect(decide(theirs, how, 'Pell Motors')).toBe('bad-input');
      expect(decide(ours, how)).toBe('ours-already');
      expect(decide({ ...theirs, ownerId: unknownOwnerId }, how)).toBe('owner-not-known');
    }
  });

  it('is a customer’s who is named and has it not yet, while no job counts on it', () => {
    for (const how of ['given to them', 'theirs after all'] as const) {
      expect(decide(ours, how, named.name)).toBe(named.id);
      expect(decide(ours, how)).toBe('bad-input');
      expect(decide({ ...ours, named: null }, how, 'Nobody')).toBe('bad-input');
      expect(decide({ ...theirs, ownerId: named.id, named }, how, named.name)).toBe('bad-input');
      expect(decide({ ...ours, claimed: '2' }, how, named.name)).toBe('in-use');
      expect(decide({ ...ours, isInUse: true }, how, named.name)).toBe('in-use');
    }
  });

  it('stays while it is kept, condemned, in a set, or a job is on it', () => {
    expect(decide({ ...theirs, keptForOwner: true }, 'bought')).toBe('kept-for-owner');
    expect(decide({ ...theirs, condemned: true }, 'bought')).toBe('condemned');
    expect(decide({ ...theirs, isBound: true }, 'bought')).toBe('in-use');
    expect(decide({ ...theirs, job: 'Rear axle' }, 'bought')).toBe('in-use');
  });
});
