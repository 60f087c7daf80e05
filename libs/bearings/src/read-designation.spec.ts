import fc from 'fast-check';
import type { SuffixRow } from './bearing-types';
import { aspectOf, readDesignation, tableName } from './read-designation';

fc.configureGlobal({ seed: 20261125 });

const makers: SuffixRow[] = [
  { suffix: 'ZZ', aspect: 'seals', value: 'two shields', words: 'shields on both sides', maker: '' },
  { suffix: 'DD', aspect: 'seals', value: 'two contact seals', words: 'contact seals on both sides', maker: 'Pellow' },
];
const read = (words: string, rows: SuffixRow[] = makers) => readDesignation(words, rows);

describe('reading a designation (worked by hand from the rules of ISO 15, ISO 355 and DIN 623-1, from memory)', () => {
  it.each([
    ['6205', '6205', 25, '02'],
    ['6000', '6000', 10, '10'],
    ['6301', '6301', 12, '03'],
    ['608', '608', 8, '10'],
    ['623', '623', 3, '02'],
    ['62305', '62305', 25, '23'],
    ['62/22', '62/22', 22, '02'],
    ['618/4', '618/4', 4, '18'],
    ['320/28 X', '320/28', 28, '20'],
    ['nu205', 'NU 205', 25, '02'],
    ['NUP-2206', 'NUP 2206', 30, '22'],
    ['3206', '3206', 30, '32'],
    ['32206', '32206', 30, '22'],
    ['2206', '2206', 30, '22'],
    ['22206', '22206', 30, '22'],
    ['51106', '51106', 30, '11'],
    ['T2EE040', 'T2EE040', 40, '2EE'],
    ['K 20x26x17', 'K20X26X17', 20, null],
    ['6296', '6296', 480, '02'],
  ])('%s is %s with %d mm of bore, dimension series %s', (words, basic, bore, series) => {
    const reading = read(words);
    expect([reading.basic, reading.boreMm, reading.dimensionSeries, reading.stopped]).toEqual([basic, bore, series, null]);
  });

  it('tells types apart that differ by one figure', () => {
    const types = ['2206', '22206', '3206', '32206', '7206', 'NU 206', 'QJ 206', '4206'].map((words) => read(words).type);
    expect(types).toEqual([
      'self-aligning ball',
      'spherical roller',
      'double row angular contact ball',
      'taper roller',
      'angular contact ball',
      'cylindrical roller',
      'four-point contact ball',
      'double row ball',
    ]);
  });

  it('reads suffixes in any order and with any separator', () => {
    for (const words of ['6205-2RS-P63 N', '6205.2rs/n P6/C3', '6205 2RSNC3P6']) {
      const reading = read(words);
      const values = (['seals', 'groove', 'clearance', 'tolerance', 'boreForm', 'cage'] as const).map((aspect) =>
        aspectOf(reading, aspect),
      );
      expect(values).toEqual(['two contact seals', 'groove', 'C3', 'P6', 'cylindrical', null]);
    }
  });

  it("reads a maker's own suffix only where the workshop's table has it", () => {
    expect(aspectOf(read('6205DD'), 'seals')).toBe('two contact seals');
    expect(read('6205DD').suffixes[0]?.source).toBe('Pellow');
    const without = read('6205ZZ', []);
    expect(without.boreMm).toBe(25);
    expect(without.stopped).toMatchObject({ at: 5, rest: 'Z' });
    // What was not read may be anything, so the plain form is not assumed.
    expect(aspectOf(without, 'clearance')).toBeNull();
  });

  it('goes as far as it can and says where it stopped and why', () => {
    expect(read('6205-2RS-QX7')).toMatchObject({ boreMm: 25, stopped: { at: 9, rest: 'QX7' } });
    expect(read('6298')).toMatchObject({ type: 'deep groove ball', boreMm: null, stopped: { at: 2, rest: '98' } });
    expect(read('6205 C2/C3').stopped?.why).toContain('does not go with');
    expect(read('52206')).toMatchObject({ type: 'double direction thrust ball', boreMm: null, stopped: null });
    expect(read('rear hub')).toMatchObject({ system: null, stopped: { at: 0, rest: 'rear hub' } });
  });

  it('takes an inch taper number as an assembly of two', () => {
    expect(read('LM 11949/10')).toMatchObject({ basic: 'LM11949/LM11910', piece: 'whole', boreMm: null });
    expect(read('25580/25520').basic).toBe('25580/25520');
    expect(read('LM11949').piece).toBe('cone');
    expect(read('LM11949').notes.join(' ')).toContain('a half');
    expect(read('LM11910').piece).toBe('cup');
  });

  it('reads the old imperial series by eighths or inches of bore, from memory, and LS not at all', () => {
    expect(read('RLS 8').boreMm).toBe(25.4);
    expect(read('RMS10').boreMm).toBe(31.75);
    expect(read('LJ 1 1/4').boreMm).toBe(31.75);
    expect(read('MRJ 7/8')).toMatchObject({ type: 'cylindrical roller', boreMm: 22.225 });
    expect(read('LS10').stopped?.why).toContain('Measure it');
  });

  it('reads an old number of three figures by series and bore, and takes nothing else for granted (from memory)', () => {
    const reading = read('208');
    expect(reading).toMatchObject({ system: 'old metric', boreMm: 40, dimensionSeries: '02', stopped: null });
    expect(tableName(reading)).toBe('6208');
    expect(aspectOf(reading, 'clearance')).toBeNull();
    expect(read('308').notes.join(' ')).toContain('medium series');
    expect(read('299').system).toBeNull();
  });

  it('finds capped inch bearings and short forms under their names in the table', () => {
    expect(tableName(read('R8ZZ'))).toBe('R8-2Z');
    expect(tableName(read('R8'))).toBe('R8');
    expect(tableName(read('6801ZZ'))).toBe('61801');
    expect(tableName(read('684'))).toBe('618/4');
    expect(tableName(read('684ZZ'))).toBe('684-2Z');
    expect(tableName(read('6205ZZ'))).toBe('6205');
  });

  it('answers anything that is keyed, and what it read with the rest is what was given', () => {
    const piece = fc.constantFrom(
      '6',
      '2',
      '05',
      'NU',
      'T',
      'K',
      '/',
      '-',
      ' ',
      'C3',
      'P6',
      'ZZ',
      'LM',
      '11949',
      'X',
      'é',
      '2RS',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        const words = pieces.join('').trim();
        const { stopped, asGiven } = read(words);
        expect(asGiven).toBe(words);
        if (stopped !== null) expect(words.slice(stopped.at)).toBe(stopped.rest);
      }),
      { numRuns: 2000 },
    );
  });
});
