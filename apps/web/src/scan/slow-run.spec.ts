import { makeCode } from '@corewright/codes/label-code';
import { readBurst, type WedgeKey } from '@corewright/codes/wedge';
import { codePart, holdsLetter, joinRun, type SlowRun } from './slow-run.js';

const code = makeCode('L', 24);
const strokes = (text: string, gaps: readonly number[]): WedgeKey[] => {
  let at = 0;
  return [...text].map((key, index) => {
    at += gaps[index % gaps.length] ?? 0;
    return { key, code: /\d/.test(key) ? `Digit${key}` : `Key${key.toUpperCase()}`, timeStamp: at };
  });
};
const run = (keys: readonly WedgeKey[]) => keys.reduce<SlowRun>(joinRun, []);

describe('a scan that comes in pieces, outside every field', () => {
  it('is one scan when its pieces are less than a second apart', () => {
    expect(readBurst(codePart(run(strokes(code, [4, 4, 300]))))).toMatchObject({ kind: 'code', parsed: { code } });
  });
  it('is read from its letter on, after digits keyed before it', () => {
    expect(readBurst(codePart(run(strokes(`12${code}`, [40]))))).toMatchObject({ kind: 'code', parsed: { code } });
  });
  it('keeps its digits from being taken for a quantity', () => {
    expect(holdsLetter(run(strokes('L000', [4])))).toBe(true);
    expect(holdsLetter(run(strokes('12', [40])))).toBe(false);
    // on a French keyboard the digit 2 types a letter
    expect(holdsLetter([{ key: 'é', code: 'Digit2', timeStamp: 0 }])).toBe(false);
  });
  it('is forgotten after a second of quiet', () => {
    expect(run([...strokes('L', [4]), { key: '7', code: 'Digit7', timeStamp: 1_500 }])).toHaveLength(1);
  });
});
