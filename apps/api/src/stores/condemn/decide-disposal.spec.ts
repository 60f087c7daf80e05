import { unknownOwnerId } from '../ledger.js';
import { type DisposalStanding, decideDisposal } from './decide-disposal.js';

const ours: DisposalStanding = { condemned: true, ownerId: null, keptForOwner: false, hasHere: true, isElsewhere: false };
const theirs = { ...ours, ownerId: 'a customer' };
const decide = (standing: DisposalStanding, how: Parameters<typeof decideDisposal>[1]['how'], ownersWord = '') => {
  const decided = decideDisposal(standing, { how, ownersWord });
  return decided.ok ? 'may be' : decided.error.code;
};

describe('what becomes of what is condemned', () => {
  it('ours is scrapped or kept, and given back to nobody', () => {
    for (const how of ['scrapped', 'kept as a pattern', 'kept for display'] as const) expect(decide(ours, how)).toBe('may be');
    expect(decide(ours, 'given back')).toBe('ours');
  });

  it('a customer’s goes back without a word, and is scrapped or kept on the owner’s word alone', () => {
    expect(decide(theirs, 'given back')).toBe('may be');
    for (const how of ['scrapped', 'kept as a pattern', 'kept for display'] as const) {
      expect(decide(theirs, how)).toBe('bad-input');
      expect(decide(theirs, how, 'by telephone')).toBe('may be');
    }
    expect(decide({ ...theirs, ownerId: unknownOwnerId }, 'given back')).toBe('owner-not-known');
  });

  it('is decided only of what is condemned, lies here whole, and is not kept for its owner', () => {
    expect(decide({ ...ours, condemned: false }, 'scrapped')).toBe('not-condemned');
    expect(decide({ ...ours, hasHere: false }, 'scrapped')).toBe('not-here');
    expect(decide({ ...ours, isElsewhere: true }, 'scrapped')).toBe('not-here');
    expect(decide({ ...theirs, keptForOwner: true }, 'scrapped', 'a word')).toBe('kept-for-owner');
  });
});
