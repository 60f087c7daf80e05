import { makeCode } from '@corewright/codes/label-code';
import type { LabelSubject } from '../label-subject.js';
import { belongsOn, sizeOfRun, withoutRepeats } from './decide-run.js';

const subject = (stock: LabelSubject['stock']): LabelSubject => ({ stock, models: [{ code: makeCode('U', 1), title: 'x' }] });

describe('what a run prints', () => {
  it('puts tags on tags and bag labels on bag labels, and all on a sheet', () => {
    expect(belongsOn(subject('tie-on tag'), 'tie-on tag')).toBe(true);
    expect(belongsOn(subject('tie-on tag'), 'bag label')).toBe(false);
    expect(belongsOn(subject('bag label'), 'tie-on tag')).toBe(false);
    expect(belongsOn(subject('tie-on tag'), 'A4 sheet')).toBe(true);
  });

  it('names no code twice', () => {
    const [one, two] = [makeCode('L', 1), makeCode('L', 2)];
    expect(withoutRepeats([one, two, one])).toEqual([one, two]);
  });
});

describe('how large a run is', () => {
  it('has a page a label on a roll', () => {
    expect(sizeOfRun([2, 2, 1], 'tie-on tag', 1)).toEqual({ labelCount: 5, pageCount: 5, nextFreeCell: null });
  });

  it.each([
    [[1], 1, 1, 2],
    [Array<number>(11).fill(1), 8, 1, 19],
    [Array<number>(17).fill(1), 8, 1, 1],
    [Array<number>(18).fill(1), 8, 2, 2],
    [Array<number>(24).fill(2), 1, 2, 1],
  ])('on sheets, %j from cell %i', (copies, start, pageCount, nextFreeCell) => {
    expect(sizeOfRun(copies, 'A4 sheet', start)).toMatchObject({ pageCount, nextFreeCell });
  });
});
