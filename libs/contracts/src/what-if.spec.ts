import { readSuppositions, type Supposition, suppositionsMax, WhatIfQuery, writeSuppositions } from './what-if.js';

const [one, other] = ['01a21a8e-6ad2-7d95-896a-1ca46581d6cd', '01a21a8e-6ad0-7392-bb03-99bcd3f78bf4'];

const each: readonly Supposition[] = [
  { kind: 'first', jobId: one },
  { kind: 'standard', jobId: one, standard: "customer's choice" },
  { kind: 'core', unitId: one, gives: 'all' },
  { kind: 'order-late', receiptId: one, days: 14 },
  { kind: 'order-on', receiptId: one, on: '2027-02-28' },
  { kind: 'order-never', receiptId: one },
  { kind: 'instead', lineId: one, partId: other },
  { kind: 'instead-everywhere', forPartId: one, partId: other },
];

describe('a question as an address keeps it', () => {
  it('is read as it was written, all kinds together', () => {
    expect(readSuppositions(writeSuppositions(each))).toEqual(each);
    const suppose = new URLSearchParams({ suppose: writeSuppositions(each) }).get('suppose');
    expect(WhatIfQuery.parse({ suppose }).suppose).toEqual(each);
  });

  it.each([
    ['no such kind', `last.${one}`],
    ['no id', 'first.me'],
    ['nothing of what is needed', 'first'],
    ['something too many', `first.${one}.again`],
    ['no day of the calendar', `order-on.${one}.2027-02-30`],
    ['no lateness', `order-late.${one}.0`],
    ['half a day', `order-late.${one}.1.5`],
    ['too many', Array.from({ length: suppositionsMax + 1 }, () => `first.${one}`).join(',')],
  ])('is none with %s', (_what, text) => {
    expect(readSuppositions(text)).toBeNull();
    expect(WhatIfQuery.safeParse({ suppose: text }).success).toBe(false);
  });

  it('is nothing yet while it is empty', () => {
    expect(readSuppositions('')).toEqual([]);
    expect(WhatIfQuery.safeParse({ suppose: '' }).success).toBe(false);
  });
});
