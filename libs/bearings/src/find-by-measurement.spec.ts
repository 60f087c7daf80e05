import { type Boundary, findByMeasurement, type Measured } from './find-by-measurement';
import { readLength } from './read-length';

const row = (designation: string, boreMm: number, outsideMm: number, widthMm: number): Boundary => ({
  designation,
  boreMm,
  outsideMm,
  widthMm,
});
const table = [
  row('6205', 25, 52, 15),
  row('6005', 25, 47, 12),
  row('NU 2205', 25, 52, 18),
  row('LJ 1 1/4', 31.75, 69.85, 17.4625),
];
const find = (measured: Measured, tolerance = 0.1) => {
  const found = findByMeasurement(table, measured, tolerance);
  if (!found.ok) throw new Error(found.error.sentence);
  return found.value;
};

describe('finding by measurement', () => {
  it('puts the closest first, with the deviation of each figure', () => {
    const { candidates, doubt } = find({ boreMm: 25.02, outsideMm: 51.9, widthMm: 16.4 }, 2);
    expect(candidates.map((each) => each.row.designation)).toEqual(['6205', 'NU 2205']);
    expect(candidates[0]?.deviation).toEqual({ boreMm: -0.02, outsideMm: 0.1, widthMm: -1.4 });
    expect(doubt).toBeNull();
  });

  it('does with any two figures, and not with one', () => {
    expect(find({ boreMm: null, outsideMm: 52, widthMm: 15 }).candidates.map((each) => each.row.designation)).toEqual(['6205']);
    expect(find({ boreMm: 25, outsideMm: null, widthMm: 12 }).candidates.map((each) => each.row.designation)).toEqual(['6005']);
    expect(find({ boreMm: 25, outsideMm: 52, widthMm: null }).candidates).toHaveLength(2);
    expect(findByMeasurement(table, { boreMm: 25, outsideMm: null, widthMm: null }, 1).ok).toBe(false);
  });

  it('takes a figure that differs by just the tolerance, and none beyond it', () => {
    expect(find({ boreMm: 25.1, outsideMm: 52, widthMm: 15 }).candidates).toHaveLength(1);
    expect(find({ boreMm: 25.11, outsideMm: 52, widthMm: 15 }).candidates).toHaveLength(0);
  });

  it('asks about inches where all figures are 25.4 times too small', () => {
    const { candidates, doubt } = find({ boreMm: 1.25, outsideMm: 2.75, widthMm: 0.6875 });
    expect(candidates).toEqual([]);
    expect(doubt?.question).toBe('Nothing fits as keyed. Did you measure in inches?');
    expect(doubt?.candidates[0]?.row.designation).toBe('LJ 1 1/4');
  });

  it('names the one figure that is in the other unit', () => {
    expect(find({ boreMm: 25, outsideMm: 52, widthMm: 15 / 25.4 }).doubt?.question).toContain('the width in inches');
    expect(find({ boreMm: 25 * 25.4, outsideMm: 52, widthMm: 15 }).doubt?.question).toContain('the bore in millimetres');
    expect(find({ boreMm: 77, outsideMm: 52, widthMm: 15 }).doubt).toBeNull();
  });
});

describe('reading a length', () => {
  it.each([
    ['31.75', 31.75, 'mm'],
    ['31,75 mm', 31.75, 'mm'],
    ['1 1/4', 31.75, 'in'],
    ['1-1/4"', 31.75, 'in'],
    ['1¼', 31.75, 'in'],
    ['1.25 in', 31.75, 'in'],
    ['11/16', 17.4625, 'in'],
    ['2 inches', 50.8, 'in'],
  ])('%s is %d mm, keyed in %s', (keyed, mm, unit) => {
    const read = readLength(keyed);
    expect(read).toMatchObject({ ok: true, value: { unit } });
    if (read.ok) expect(read.value.mm).toBeCloseTo(mm, 9);
  });

  it.each(['', 'wide', '1/0', '-5', '0', '1 1/4 mm in', '12.5.3', '99999'])('refuses %p in words', (keyed) => {
    expect(readLength(keyed)).toMatchObject({ ok: false, error: { code: 'unreadable-length' } });
  });
});
