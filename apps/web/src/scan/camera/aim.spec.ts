import { makeCode } from '@corewright/codes/label-code';
import { type Aim, aimAt, awayMs, type Frame, nothingAimedAt, type SymbolSeen } from './aim.js';

const [one, other] = [makeCode('L', 4711), makeCode('P', 12)];
const frame = (...symbols: SymbolSeen[]): Frame => ({ width: 1280, height: 720, symbols });
const middle = (text: string): SymbolSeen => ({ text, x: 640, y: 360 });
const corner = (text: string): SymbolSeen => ({ text, x: 100, y: 90 });

/** What is scanned while these frames pass, one each so many milliseconds. */
function scannedOver(frames: readonly Frame[], everyMs: number): string[] {
  let aim: Aim = nothingAimedAt;
  return frames.flatMap((each, index) => {
    const aimed = aimAt(aim, each, 1_000 + index * everyMs);
    aim = aimed.aim;
    return aimed.scanned === null ? [] : [aimed.scanned.code];
  });
}

it('scans a label once while it stays in view, however often it is read', () => {
  expect(
    scannedOver(
      Array.from({ length: 100 }, () => frame(middle(one))),
      100,
    ),
  ).toEqual([one]);
});

it('scans it again when it comes back after it was away, and not after a blurred frame or two', () => {
  const away = Array.from({ length: Math.ceil(awayMs / 100) }, () => frame());
  expect(scannedOver([frame(middle(one)), ...away, frame(middle(one))], 100)).toEqual([one, one]);
  expect(scannedOver([frame(middle(one)), frame(), frame(), frame(middle(one))], 100)).toEqual([one]);
});

it('takes the label in the middle of those in view, and each as the aim comes to it', () => {
  const both = frame(corner(other), middle(one));
  const moved = frame(middle(other), corner(one));
  expect(scannedOver([both, both, moved, moved, both], 100)).toEqual([one, other, one]);
});

it('reads no label whose check digits do not hold, and says what a symbol of somebody else’s says', () => {
  const wrong = `${one.slice(0, -1)}${(Number(one.at(-1)) + 1) % 10}`;
  expect(aimAt(nothingAimedAt, frame(middle(wrong)), 0)).toMatchObject({ scanned: null, foreign: wrong });
  expect(aimAt(nothingAimedAt, frame(middle('5012345678900')), 0)).toMatchObject({ scanned: null, foreign: '5012345678900' });
  // beside a label of ours it is not what is meant
  expect(aimAt(nothingAimedAt, frame(middle('5012345678900'), corner(one)), 0)).toMatchObject({
    scanned: { code: one },
    foreign: null,
  });
  expect(aimAt(nothingAimedAt, frame(), 0)).toEqual({ aim: nothingAimedAt, scanned: null, foreign: null });
});
