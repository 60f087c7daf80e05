import fc from 'fast-check';
import { describePacketDate, readPacketDate } from './packet-date.js';
import { addDays } from './plain-date.js';

// the same runs each time; a failure prints its seed and path
fc.configureGlobal({ seed: 20261125 });

const today = '2026-11-24';
const metal = { material: 'other', today } as const;
const rubber = { material: 'rubber', today } as const;

describe('reading a packet date', () => {
  it.each([
    ['12 May 1956', 'day', '1956-05-12', '1956-05-12'],
    ['12th May, 1956', 'day', '1956-05-12', '1956-05-12'],
    ['12may56', 'day', '1956-05-12', '1956-05-12'],
    ['May 12 1956', 'day', '1956-05-12', '1956-05-12'],
    ['12/5/56', 'day', '1956-05-12', '1956-05-12'],
    ['5-12-56', 'day', '1956-12-05', '1956-12-05'],
    ['12.5.1956', 'day', '1956-05-12', '1956-05-12'],
    ['1956-05-12', 'day', '1956-05-12', '1956-05-12'],
    ['29 Feb 1956', 'day', '1956-02-29', '1956-02-29'],
    ['29/2/00', 'day', '2000-02-29', '2000-02-29'],
    ['May 1956', 'month', '1956-05-01', '1956-05-31'],
    ["Sept. '56", 'month', '1956-09-01', '1956-09-30'],
    ['5/1956', 'month', '1956-05-01', '1956-05-31'],
    ['05-56', 'month', '1956-05-01', '1956-05-31'],
    ['1956-05', 'month', '1956-05-01', '1956-05-31'],
    ['3/53', 'month', '1953-03-01', '1953-03-31'],
    ['Nov 2026', 'month', '2026-11-01', today],
    ['Q3 1994', 'quarter', '1994-07-01', '1994-09-30'],
    ['3Q94', 'quarter', '1994-07-01', '1994-09-30'],
    ['3rd quarter of 1994', 'quarter', '1994-07-01', '1994-09-30'],
    ['1994 Q3', 'quarter', '1994-07-01', '1994-09-30'],
    ['1949', 'year', '1949-01-01', '1949-12-31'],
    ['2026', 'year', '2026-01-01', today],
    ['195?', 'unknown', '1950-01-01', '1959-12-31'],
    ['1950s', 'unknown', '1950-01-01', '1959-12-31'],
    ['5/12', 'month', '2012-05-01', '2012-05-31'],
    ['', 'unknown', null, null],
    ['?', 'unknown', null, null],
    ['None', 'unknown', null, null],
    ['unknown', 'unknown', null, null],
    ['code AK7', 'unknown', null, null],
  ])('"%s" is known to a %s: %s to %s', (text, precision, earliest, latest) => {
    expect(readPacketDate(text, metal)).toEqual({ ok: true, value: { asRead: text, precision, earliest, latest } });
  });

  it.each([
    ['3/94', 'quarter', '1994-07-01', '1994-09-30'],
    ['3/53', 'quarter', '1953-07-01', '1953-09-30'],
    ['1/1961', 'quarter', '1961-01-01', '1961-03-31'],
    ['03/94', 'month', '1994-03-01', '1994-03-31'],
    ['7/94', 'month', '1994-07-01', '1994-07-31'],
    ['3/6/94', 'day', '1994-06-03', '1994-06-03'],
  ])('on rubber "%s" is known to a %s: %s to %s', (text, precision, earliest, latest) => {
    expect(readPacketDate(text, rubber)).toEqual({ ok: true, value: { asRead: text, precision, earliest, latest } });
  });

  it('spans both centuries where a year of two figures can mean either since 1930', () => {
    const later = { material: 'rubber', today: '2036-06-30' } as const;
    expect(readPacketDate('3/32', later)).toMatchObject({
      value: { precision: 'quarter', earliest: '1932-07-01', latest: '2032-09-30' },
    });
    expect(readPacketDate('12/5/36', later)).toMatchObject({
      value: { precision: 'day', earliest: '1936-05-12', latest: '2036-05-12' },
    });
    expect(readPacketDate('12/5/36', { ...later, today: '2036-05-11' })).toMatchObject({ value: { latest: '1936-05-12' } });
  });

  it.each([
    ['31/2/1955', 'not-a-date', '31 Feb is not a date: February 1955 has 28 days.'],
    ['31 Feb 55', 'not-a-date', '31 Feb is not a date: February 1955 has 28 days.'],
    ['29/2/57', 'not-a-date', '29 Feb is not a date: February 1957 has 28 days.'],
    ['13/1955', 'not-a-date', 'There is no month 13. Months go from 1 to 12.'],
    ['0/55', 'not-a-date', 'There is no month 0. Months go from 1 to 12.'],
    ['0/5/1955', 'not-a-date', '0 May is not a date. Days are counted from 1.'],
    ['1066', 'not-a-date', '1066 is too early for a packet. Look at the packet again.'],
    ['25 Nov 2026', 'after-today', '25 Nov 2026 is after today. Look at the packet again.'],
    ['12/2026', 'after-today', '1 Dec 2026 is after today. Look at the packet again.'],
    ['2027', 'after-today', '1 Jan 2027 is after today. Look at the packet again.'],
    ['12/28', 'century-unclear', 'The year "28" would be 1928, or still to come. Write the year in full.'],
  ])('refuses "%s"', (text, code, sentence) => {
    expect(readPacketDate(text, metal)).toEqual({ ok: false, error: { code, sentence } });
  });

  it.each(['soon', '56', '1/2/3', '5Q94', '12 Mayo 1956', 'x'.repeat(500)])(
    'refuses "%.20s", which has no form of a date',
    (text) => {
      const read = readPacketDate(text, metal);
      expect(read).toMatchObject({ ok: false, error: { code: 'unreadable' } });
      expect(!read.ok && read.error.sentence.length).toBeLessThan(260);
    },
  );

  it('says in words what a reading means', () => {
    const wordsOf = (text: string, context: typeof metal | typeof rubber) => {
      const read = readPacketDate(text, context);
      return read.ok ? describePacketDate(read.value) : read.error.sentence;
    };
    expect(wordsOf('3/94', rubber)).toBe('third quarter of 1994: 1 Jul 1994 to 30 Sep 1994');
    expect(wordsOf('5/56', metal)).toBe('May 1956: 1 May 1956 to 31 May 1956');
    expect(wordsOf('1949', metal)).toBe('1949: 1 Jan 1949 to 31 Dec 1949');
    expect(wordsOf('12/5/56', metal)).toBe('12 May 1956');
    expect(wordsOf('195?', metal)).toBe('some day from 1 Jan 1950 to 31 Dec 1959');
    expect(wordsOf('?', metal)).toBe('date unknown');
  });

  it('contains the day whose month, quarter, year or day was written, and never a day to come', () => {
    const quarterOf = (date: string) => Math.ceil(Number(date.slice(5, 7)) / 3);
    const days = fc.integer({ min: 0, max: 35_391 }).map((days) => addDays('1930-01-01', days));
    const writers: ((date: string) => string)[] = [
      (date) => date,
      (date) => `${Number(date.slice(8))}/${Number(date.slice(5, 7))}/${date.slice(2, 4)}`,
      (date) => `${date.slice(5, 7)}/${date.slice(2, 4)}`,
      (date) => `${quarterOf(date)}Q${date.slice(2, 4)}`,
      (date) => `${quarterOf(date)}/${date.slice(2, 4)}`,
      (date) => date.slice(0, 4),
    ];
    fc.assert(
      fc.property(days, fc.constantFrom(...writers), (date, write) => {
        const read = readPacketDate(write(date), rubber);
        if (!read.ok) throw new Error(read.error.sentence);
        expect([read.value.earliest, date, read.value.latest, today]).toEqual(
          [read.value.earliest, date, read.value.latest, today].toSorted(),
        );
      }),
    );
  });

  it('answers any text at all with a reading or a sentence', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(..."0123456789/-. qQmayoct?'s") }), (text) => {
        const read = readPacketDate(text, rubber);
        expect(read.ok || read.error.sentence.length > 10).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});
