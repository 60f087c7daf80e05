import { identityOf, keyOfMark, marksKey, marksPattern, mayBeSameMark } from './marks.js';

describe('the key of marks', () => {
  it('keeps letters, digits and question marks, one mark from another', () => {
    expect(marksKey('WD7 4?18 · 48 B 6')).toBe('WD74?18 48B6');
  });

  it('puts the mark that is no casting number first', () => {
    expect(marksKey('cast 61-0?9 · 4g/2 11862')).toBe('4G211862 CAST610?9');
  });

  it('begins with a space where every mark is a casting number', () => {
    expect(marksKey('cast 61-0?9')).toBe(' CAST610?9');
    expect(identityOf(marksKey('cast 61-0?9'))).toBe('');
  });

  it('is empty where nothing was read', () => {
    expect(marksKey(' · -')).toBe('');
  });
});

describe('two readings of one mark', () => {
  it.each([
    ['WD74?18', 'WD74518'],
    ['WD74?18', 'WD7?518'],
    ['WD74518', 'WD74518'],
  ])('%s and %s may be the same', (one, other) => {
    expect(mayBeSameMark(one, other)).toBe(true);
    expect(mayBeSameMark(other, one)).toBe(true);
  });

  it.each([
    ['WD74?18', 'WD74519'],
    ['WD74?18', 'WD7418'],
    ['??76', '7176'],
    ['', ''],
  ])('%s and %s are not called the same', (one, other) => {
    expect(mayBeSameMark(one, other)).toBe(false);
    expect(mayBeSameMark(other, one)).toBe(false);
  });
});

describe('looking for a mark', () => {
  it.each([
    ['4518', 'WD74?18'],
    ['4?18', 'WD74518 48B6'],
    ['4?18', 'WD7?518'],
    ['48 b-6', 'WD74518 48B6'],
  ])('%s finds %s', (keyed, key) => {
    expect(new RegExp(marksPattern(keyOfMark(keyed))).test(key)).toBe(true);
  });

  it('does not read one mark into the next', () => {
    expect(new RegExp(marksPattern(keyOfMark('1?48'))).test('WD741 48B6')).toBe(false);
  });
});
