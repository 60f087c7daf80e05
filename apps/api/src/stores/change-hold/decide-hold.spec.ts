import { decideHold, type HoldStanding, type Lifting } from './decide-hold.js';

const free: HoldStanding = { heldBackReason: null, condemned: false, keptForOwner: false, lifter: null };
const held: HoldStanding = { ...free, heldBackReason: 'crack suspected' };
const wilf = { id: 'wilf', name: 'Wilf Peskett', active: true };
const by = (role: Lifting['role'], id = 'someone'): Lifting => ({ id, role });

describe('a hold', () => {
  it('is put on what is free and lifted from what is held', () => {
    expect(decideHold(free, 'hold', by('stores')).ok).toBe(true);
    expect(decideHold(held, 'lift', by('stores')).ok).toBe(true);
    expect(decideHold(held, 'hold on', by('stores')).ok).toBe(true);
  });

  it('is not put on twice, and the refusal says why it is held', () => {
    const answer = decideHold(held, 'hold', by('owner'));
    expect(answer).toMatchObject({ ok: false, error: { code: 'held-already', status: 409 } });
    expect(answer.ok ? '' : answer.error.detail).toContain('crack suspected');
  });

  it('is not lifted where there is none', () => {
    expect(decideHold(free, 'lift', by('owner'))).toMatchObject({ ok: false, error: { code: 'not-held', status: 409 } });
  });

  it('without a name is lifted by whoever keeps the books', () => {
    for (const role of ['owner', 'stores'] as const) expect(decideHold(held, 'lift', by(role)).ok).toBe(true);
    for (const role of ['bench', 'viewer'] as const)
      expect(decideHold(held, 'lift', by(role))).toMatchObject({ ok: false, error: { code: 'not-yours-to-lift' } });
  });

  it('with a name is lifted by that person alone, whatever their role; the others are told whom to ask', () => {
    const named = { ...held, lifter: wilf };
    expect(decideHold(named, 'lift', by('bench', 'wilf')).ok).toBe(true);
    for (const role of ['owner', 'stores'] as const)
      expect(decideHold(named, 'lift', by(role))).toMatchObject({
        ok: false,
        error: { code: 'not-yours-to-lift', detail: expect.stringContaining('Ask Wilf Peskett.') },
      });
  });

  it('of somebody who is no longer here is lifted by an owner', () => {
    const orphaned = { ...held, lifter: { ...wilf, active: false } };
    expect(decideHold(orphaned, 'lift', by('owner')).ok).toBe(true);
    expect(decideHold(orphaned, 'lift', by('stores'))).toMatchObject({ ok: false, error: { code: 'not-yours-to-lift' } });
  });

  it('of what is kept for its owner or condemned is lifted by nobody', () => {
    expect(decideHold({ ...held, keptForOwner: true }, 'lift', by('owner'))).toMatchObject({
      ok: false,
      error: { code: 'kept-for-owner' },
    });
    for (const act of ['hold', 'lift', 'hold on'] as const)
      expect(decideHold({ ...held, condemned: true }, act, by('owner'))).toMatchObject({
        ok: false,
        error: { code: 'condemned' },
      });
  });
});
