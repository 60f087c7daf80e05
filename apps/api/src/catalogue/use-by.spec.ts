import { byUseBy, sayOpen, useByOf } from './use-by.js';

const today = '2026-11-27';
const closed = { packetUseBy: null, isOpen: false, openedOn: null, keepsDays: null };
const opened = { ...closed, isOpen: true, openedOn: '2026-11-20', keepsDays: 10 };

describe('the day up to which a container may be used', () => {
  it.each([
    ['nothing is known of it', closed, null, false, /No use-by date is known\.$/],
    [
      'the packet alone says so',
      { ...closed, packetUseBy: '2026-11-27' },
      '2026-11-27',
      false,
      /^Use by 27 Nov 2026: by the packet/,
    ],
    ['the packet says yesterday', { ...closed, packetUseBy: '2026-11-26' }, '2026-11-26', true, /^Past use-by since 26 Nov 2026/],
    ['a full one keeps, whatever it does once opened', { ...closed, keepsDays: 1 }, null, false, /No use-by date is known\.$/],
    [
      'it was opened, and the days end first',
      { ...opened, packetUseBy: '2027-01-01' },
      '2026-11-30',
      false,
      /opened 20 Nov 2026, and it keeps 10 days once opened/,
    ],
    ['it was opened, and the packet ends first', { ...opened, packetUseBy: '2026-11-25' }, '2026-11-25', true, /by the packet/],
    ['it was opened, and no packet says anything', opened, '2026-11-30', false, /^Use by 30 Nov 2026/],
    ['it was opened, and opening sets no limit', { ...opened, keepsDays: null }, null, false, /opening sets none/],
    ['nobody knows when it was opened', { ...opened, openedOn: null }, null, true, /Nobody knows when it was opened/],
    [
      'nobody knows when, and opening sets no limit',
      { ...opened, openedOn: null, keepsDays: null },
      null,
      false,
      /opening sets none/,
    ],
  ])('where %s', (_, facts, on, past, words) => {
    const useBy = useByOf(facts, today);
    expect(useBy).toMatchObject({ on, past });
    expect(useBy.words).toMatch(words);
  });

  it('puts the nearest first, and those without one last, by their codes', () => {
    const of = (code: string, on: string | null) => ({ code, useBy: { on, past: false, words: '' } });
    const order = [of('L2', null), of('L1', null), of('L4', '2027-01-01'), of('L3', '2026-12-01')].toSorted(byUseBy);
    expect(order.map(({ code }) => code)).toEqual(['L3', 'L4', 'L1', 'L2']);
  });
});

describe('what a scan of an open container says', () => {
  it.each([
    ['it may be used', opened, 'open since 20 Nov 2026, use by 30 Nov 2026'],
    ['nothing limits it', { ...opened, keepsDays: null }, 'open since 20 Nov 2026'],
    ['it was open too long', { ...opened, keepsDays: 2 }, 'past its use-by since 22 Nov 2026; open since 20 Nov 2026'],
    ['nobody knows since when', { ...opened, openedOn: null }, 'open, and nobody knows since when: it counts as past its use-by'],
    [
      'nobody knows since when, and the packet still allows it',
      { ...opened, openedOn: null, packetUseBy: '2027-01-01' },
      'open, and nobody knows since when: it counts as past its use-by',
    ],
  ])('where %s', (_what, facts, words) => {
    expect(sayOpen(facts, today)).toBe(words);
  });
});
