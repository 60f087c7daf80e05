import { type Hunting, huntingOf, type Mesh, type Ratio, ratioOf } from './ratio.js';

/** What was counted: so many turns of the input, read as closely as this, for so many turns of the output. */
export interface TurnsCounted {
  inputTurns: number;
  /** the input may have turned so much more or less: an eighth of a turn by a chalk mark (common practice) */
  mayBeOffBy: number;
  outputTurns: number;
  /**
   * What turned at the output. With one side of a differential held the other turns twice for each turn of the wheel between them, so the
   * turns that are counted are twice those of the wheel.
   */
  output: 'both sides, or the wheel itself' | 'one side, the other held';
}

export interface PairsAsked {
  driver: { least: number; most: number };
  driven: { least: number; most: number };
}

/** Between these the ratio lies, by what was counted. */
export interface RatioRange {
  least: number;
  middle: number;
  most: number;
}

export interface PairThatFits extends Mesh {
  ratio: Ratio;
  hunting: Hunting;
  /** how far from the middle of what was counted, as a share of it */
  offBy: number;
}

/** @returns why nothing follows from it, in words; null where something does */
export function whyNoRange({ inputTurns, mayBeOffBy, outputTurns }: TurnsCounted): string | null {
  if (![inputTurns, mayBeOffBy, outputTurns].every(Number.isFinite)) return 'Key the turns as numbers.';
  if (outputTurns <= 0) return 'Turn the output once at least: from nothing no ratio follows.';
  if (inputTurns <= 0) return 'The input turned: key how often.';
  if (mayBeOffBy < 0) return 'How closely it was read is nothing or more.';
  if (mayBeOffBy >= inputTurns) return 'Read so loosely, any ratio fits. Turn it further, or mark it more finely.';
  return null;
}

/** @throws RangeError where nothing follows from what was counted */
export function rangeOf(counted: TurnsCounted): RatioRange {
  const why = whyNoRange(counted);
  if (why !== null) throw new RangeError(why);
  const ofWheel = counted.output === 'one side, the other held' ? counted.outputTurns / 2 : counted.outputTurns;
  const at = (turns: number) => turns / ofWheel;
  return {
    least: at(counted.inputTurns - counted.mayBeOffBy),
    middle: at(counted.inputTurns),
    most: at(counted.inputTurns + counted.mayBeOffBy),
  };
}

/** Every pair of teeth whose ratio lies in the range, the nearest to the middle first, then the fewest teeth. */
export function pairsThatFit(range: RatioRange, asked: PairsAsked): PairThatFits[] {
  const pairs: PairThatFits[] = [];
  for (let driver = asked.driver.least; driver <= asked.driver.most; driver += 1) {
    const least = Math.max(asked.driven.least, Math.ceil(range.least * driver - 1e-9));
    const most = Math.min(asked.driven.most, Math.floor(range.most * driver + 1e-9));
    for (let driven = least; driven <= most; driven += 1) {
      const mesh = { driver, driven };
      const offBy = Math.abs(driven / driver - range.middle) / range.middle;
      pairs.push({ ...mesh, ratio: ratioOf([mesh]), hunting: huntingOf(mesh), offBy });
    }
  }
  return pairs.sort((one, other) => one.offBy - other.offBy || one.driver - other.driver || one.driven - other.driven);
}

/**
 * How far the output has to turn before a reading as loose as this can be of one of the two only: their inputs are then further apart than
 * the reading may be off both ways.
 * @returns whole turns of what turns at the output; null where both have one ratio, which no turning tells apart
 */
export function turnsToTellApart(one: Ratio, other: Ratio, { mayBeOffBy, output }: TurnsCounted): number | null {
  const apart = Math.abs(one.numerator * other.denominator - other.numerator * one.denominator);
  if (apart === 0) return null;
  const ofWheel = Math.floor((2 * mayBeOffBy * one.denominator * other.denominator) / apart + 1e-9) + 1;
  return output === 'one side, the other held' ? ofWheel * 2 : ofWheel;
}
