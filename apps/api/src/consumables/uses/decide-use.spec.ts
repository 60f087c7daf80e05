import { decideUse, type UseToDecide } from './decide-use.js';

const container: NonNullable<UseToDecide['container']> = {
  words: 'L 000123 45, Bin 4, opened 3 Nov 2026',
  useBy: { on: '2026-12-03', past: false, words: 'Use by 3 Dec 2026.' },
  ownerId: null,
  heldBackReason: null,
  condemned: false,
};
const use: UseToDecide = {
  job: { state: 'building', customerId: 'Sandiman' },
  consumable: { name: 'Sealant', container: 'cartridge', charged: 'by use' },
  container,
  hasFull: true,
  hasReason: false,
};
const past = { ...container, useBy: { on: '2026-11-03', past: true, words: 'Past use-by since 3 Nov 2026: by the packet.' } };
const held = { ...container, heldBackReason: 'the cap leaks' };

describe('whether a consumable may be used on a job', () => {
  it('lets through what is open and good, and over a name what is past use-by or held back', () => {
    expect(decideUse(use)).toEqual({ ok: true });
    expect(decideUse({ ...use, container: past, hasReason: true })).toEqual({ ok: true });
    expect(decideUse({ ...use, container: held, hasReason: true })).toEqual({ ok: true });
    expect(decideUse({ ...use, container: { ...container, ownerId: 'Sandiman' } })).toEqual({ ok: true });
  });

  it.each([
    ['job-closed', null, { job: { ...use.job, state: 'released' } }, /The job is released/],
    ['not-charged-by-use', null, { consumable: { ...use.consumable, charged: 'flat' } }, /stands on the job by itself/],
    ['not-charged-by-use', null, { consumable: { ...use.consumable, charged: 'not at all' } }, /not charged to jobs/],
    ['none-open', 'open one', { container: null }, /No cartridge of Sealant is open/],
    ['none-left', null, { container: null, hasFull: false }, /none is full that may be used/],
    ['condemned', null, { container: { ...container, condemned: true }, hasReason: true }, /only disposed of/],
    [
      'goods-of-another-customer',
      null,
      { container: { ...container, ownerId: 'Orme' }, hasReason: true },
      /belongs to a customer/,
    ],
    ['held-back', 'override', { container: held }, /the cap leaks/],
    ['past-use-by', 'override', { container: past }, /Past use-by since 3 Nov 2026/],
  ] as [string, string | null, Partial<UseToDecide>, RegExp][])('stops in words: %s', (code, answer, facts, words) => {
    const decision = decideUse({ ...use, ...facts });
    expect(decision).toMatchObject({ ok: false, error: { code, answer } });
    expect(decision.ok ? '' : decision.error.detail).toMatch(words);
    expect(decision.ok ? '' : decision.error.detail).toContain('Nothing was changed.');
  });
});
