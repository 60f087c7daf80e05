import { decideOpening, type Opening } from './decide-opening.js';

const bin = { holderId: 'bin', kind: 'place', quantity: '2', name: 'Bin 4' } as const;
const tray = { holderId: 'tray', kind: 'tray', quantity: '2', name: 'Tray 7' } as const;
const opening: Opening = {
  thing: { held: '2', claimed: '0', heldBackReason: null, condemned: false },
  name: 'Sealant',
  balances: [bin],
  placeId: null,
  openedOn: '2026-11-27',
  today: '2026-11-27',
  oneAtATime: true,
  open: [],
  hasLabelKeyed: false,
};
const last: Partial<Opening> = { thing: { ...opening.thing, held: '1' }, balances: [{ ...bin, quantity: '1' }] };

describe('whether a container may be opened', () => {
  it('takes one of several, or the last as it is', () => {
    expect(decideOpening(opening)).toEqual({ ok: true, value: { placeId: 'bin', isLast: false } });
    expect(decideOpening({ ...opening, ...last })).toEqual({ ok: true, value: { placeId: 'bin', isLast: true } });
    expect(decideOpening({ ...opening, openedOn: null, placeId: 'bin' })).toMatchObject({ ok: true });
    expect(decideOpening({ ...opening, oneAtATime: false, open: [{ words: 'L 1', isThis: false }] })).toMatchObject({ ok: true });
  });

  it.each([
    ['open-already', { open: [{ words: 'L 1', isThis: true }] }, /This one is open/],
    ['one-open', { open: [{ words: 'L 1, Bin 4', isThis: false }] }, /one container at a time is open: L 1, Bin 4\./],
    ['bad-input', { openedOn: '2026-11-28' }, /still to come/],
    ['condemned', { thing: { ...opening.thing, condemned: true } }, /only disposed of/],
    ['held-back', { thing: { ...opening.thing, heldBackReason: 'the cap leaks' } }, /the cap leaks/],
    ['none-left', { balances: [] }, /no full one lies in a place/],
    ['none-left', { balances: [tray] }, /no full one lies in a place/],
    ['none-left', { placeId: 'elsewhere' }, /none lies there\. It lies in Bin 4/],
    ['none-left', { balances: [{ ...bin, quantity: '0.5' }] }, /Less than one/],
    ['claimed-for-another-job', { thing: { ...opening.thing, claimed: '1.5' } }, /All 2 of it are reserved/],
    ['has-a-label', { ...last, hasLabelKeyed: true }, /Leave the blank label off/],
  ] as [string, Partial<Opening>, RegExp][])('refuses in words: %s', (code, facts, words) => {
    const decision = decideOpening({ ...opening, ...facts });
    expect(decision).toMatchObject({ ok: false, error: { code } });
    expect(decision.ok ? '' : decision.error.detail).toMatch(words);
  });
});
