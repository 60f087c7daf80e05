import { millimetresPerInch } from '@corewright/quantities/inch';
import { type BearingType, boreFormValues, clearanceValues, toleranceValues } from './bearing-types.js';
import type { Measured } from './find-by-measurement.js';
import { aspectOf, type Reading } from './read-designation.js';

/** What is known of a bearing: its designation as read, and what the table of dimensions or a catalogue gives. */
export interface BearingFacts {
  readonly reading: Reading;
  /** Millimetres; null where not known. */
  readonly boreMm: number | null;
  readonly outsideMm: number | null;
  readonly widthMm: number | null;
  readonly chamferMinMm: number | null;
  /** Dynamic load rating in newtons, where the workshop has written it down. */
  readonly ratingN: number | null;
}

export type Point =
  | 'type'
  | 'pieces'
  | 'bore'
  | 'outside'
  | 'width'
  | 'chamfer'
  | 'clearance'
  | 'seals'
  | 'groove'
  | 'cage'
  | 'tolerance class'
  | 'rating';

/** serves: the same, or better for the purpose; unknown: not known of one or both, and so not taken as equal. */
export type PointAnswer = 'serves' | 'with care' | 'no' | 'unknown';

export interface ComparedPoint {
  readonly point: Point;
  readonly answer: PointAnswer;
  readonly reason: string;
}

export type Verdict = 'drop-in' | 'with care' | 'no';

export interface Comparison {
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly points: readonly ComparedPoint[];
  /** What the designation of either says against its dimensions. */
  readonly contradictions: readonly string[];
}

/** Without these no bearing is called a drop-in; the others are said to be unknown beside it. */
const demanded: ReadonlySet<Point> = new Set(['type', 'pieces', 'bore', 'outside', 'width', 'clearance', 'seals', 'groove']);

/** Rounding of inches: 1.0625 in is printed 26.988 and is 26.9875 mm. */
const sameMm = 0.005;

/**
 * Whether `other` may be fitted where `wanted` belongs. It tells what the figures and marks say, no more: the maker's manual and
 * the state of the bearing decide.
 */
export function compareBearings(wanted: BearingFacts, other: BearingFacts): Comparison {
  const points = [
    comparedType(wanted, other),
    comparedPieces(wanted, other),
    comparedDiameter('bore', wanted.boreMm, other.boreMm),
    comparedDiameter('outside', wanted.outsideMm, other.outsideMm),
    comparedWidth(wanted.widthMm, other.widthMm),
    comparedChamfer(wanted.chamferMinMm, other.chamferMinMm),
    comparedClearance(wanted.reading, other.reading),
    comparedSeals(wanted.reading, other.reading),
    comparedGroove(wanted.reading, other.reading),
    comparedCage(wanted.reading, other.reading),
    comparedTolerance(wanted.reading, other.reading),
    comparedRating(wanted.ratingN, other.ratingN),
  ].map((point) => (point.point === 'bore' ? withBoreForm(point, wanted.reading, other.reading) : point));
  const verdict = verdictOf(points);
  const contradictions = [...contradictionsOf(wanted), ...contradictionsOf(other)];
  return { verdict, sentence: sentenceOf(verdict, points), points, contradictions };
}

/** What the designation says of bore, outside and width against the figures beside it. */
export function contradictionsOf(facts: BearingFacts): string[] {
  const { reading } = facts;
  const pairs: [string, number | null, number | null][] = [
    ['bore', reading.boreMm, facts.boreMm],
    ['outside diameter', reading.named.outsideMm, facts.outsideMm],
    ['width', reading.named.widthMm, facts.widthMm],
  ];
  return pairs
    .filter(([, said, given]) => said !== null && given !== null && Math.abs(said - given) > sameMm)
    .map(([name, said, given]) => `${reading.asGiven} says ${name} ${mm(said!)}, but ${mm(given!)} stands beside it.`);
}

/**
 * What was measured against what the designation and the table give: a bearing may bear the number of another, be worn, or have been
 * measured in the other unit.
 * @param toleranceMm what each figure may differ by
 */
export function contradictionsMeasured(facts: BearingFacts, measured: Measured, toleranceMm: number): string[] {
  const pairs: [string, number | null, number | null][] = [
    ['bore', facts.boreMm, measured.boreMm],
    ['outside diameter', facts.outsideMm, measured.outsideMm],
    ['width', facts.widthMm, measured.widthMm],
  ];
  return pairs.flatMap(([name, given, found]) =>
    given === null || found === null || Math.abs(given - found) <= toleranceMm + 1e-6
      ? []
      : [
          `${facts.reading.asGiven} has ${name} ${mm(given)}, but ${mm(found)} was measured.${unitDoubt(given, found, toleranceMm)}`,
        ],
  );
}

function unitDoubt(given: number, found: number, toleranceMm: number): string {
  if (Math.abs(given - found * millimetresPerInch) <= toleranceMm) return ' Did you measure in inches?';
  return Math.abs(given - found / millimetresPerInch) <= toleranceMm ? ' Did you measure in millimetres?' : '';
}

function verdictOf(points: readonly ComparedPoint[]): Verdict {
  if (points.some((point) => point.answer === 'no')) return 'no';
  const doubts = (point: ComparedPoint): boolean =>
    point.answer === 'with care' || (point.answer === 'unknown' && demanded.has(point.point));
  return points.some(doubts) ? 'with care' : 'drop-in';
}

function sentenceOf(verdict: Verdict, points: readonly ComparedPoint[]): string {
  const named = (answer: PointAnswer): string =>
    points
      .filter((point) => point.answer === answer)
      .map((point) => point.point)
      .join(', ');
  const unknown = named('unknown');
  const notKnown = unknown === '' ? '' : ` Not known, and not taken as equal: ${unknown}.`;
  if (verdict === 'no') return `No: ${named('no')}.${notKnown}`;
  if (verdict === 'drop-in') return `Drop-in on every point that is known.${notKnown}`;
  const care = named('with care');
  return `With care${care === '' ? '' : `: ${care}`}.${notKnown}`;
}

function comparedType(wanted: BearingFacts, other: BearingFacts): ComparedPoint {
  const [one, two] = [wanted.reading, other.reading];
  if (one.type === null || two.type === null) return unknown('type', one.type, two.type, 'The type');
  const [named, otherNamed] = [typeWords(one.type, one.letters), typeWords(two.type, two.letters)];
  if (one.type === two.type && one.letters === two.letters) return point('type', 'serves', `Both: ${named}.`);
  if (one.locating === null || two.locating === null || one.locating !== two.locating) {
    const locates = `${otherNamed} locates the shaft ${two.locating ?? 'in a way not known'}, ${named} ${one.locating ?? 'in a way not known'}.`;
    return point('type', 'no', `${capital(locates)}`);
  }
  return point('type', 'with care', `${capital(otherNamed)} for ${named}: locates alike, but carries load and tilt otherwise.`);
}

function typeWords(type: BearingType, letters: string): string {
  return letters === '' || type === 'deep groove ball' ? `${type} bearing` : `${type} bearing ${letters}`;
}

function comparedPieces(wanted: BearingFacts, other: BearingFacts): ComparedPoint {
  const [one, two] = [wanted.reading.piece, other.reading.piece];
  if (one === 'unknown piece' || two === 'unknown piece')
    return point('pieces', 'unknown', 'Whether it is whole, a cone or a cup is not known.');
  if (one === two) return point('pieces', 'serves', one === 'whole' ? 'Both are whole.' : `Both are a ${one} alone.`);
  if (one === 'whole') return point('pieces', 'no', `${other.reading.asGiven} is a ${two} alone: a half.`);
  const reason = two === 'whole' ? 'is whole: take both halves, never one' : `is a ${two}`;
  return point('pieces', two === 'whole' ? 'with care' : 'no', `A ${one} is wanted; ${other.reading.asGiven} ${reason}.`);
}

function comparedDiameter(name: 'bore' | 'outside', wanted: number | null, other: number | null): ComparedPoint {
  if (wanted === null || other === null) return unknown(name, wanted, other, capital(name));
  if (Math.abs(wanted - other) <= sameMm) return point(name, 'serves', `${mm(other)}, the same.`);
  return point(name, 'no', `${capital(name)} ${mm(other)} where ${mm(wanted)} is wanted.`);
}

function withBoreForm(bore: ComparedPoint, wanted: Reading, other: Reading): ComparedPoint {
  const [one, two] = [aspectOf(wanted, 'boreForm'), aspectOf(other, 'boreForm')];
  if (bore.answer !== 'serves' || one === two) return bore;
  const isMarkedTaper = [one, two].some((form) => form !== null && form !== boreFormValues[0]);
  if (!isMarkedTaper) return bore;
  if (one === null || two === null) return point('bore', 'unknown', `${bore.reason} Whether both bores are taper is not known.`);
  return point('bore', 'no', `The bore is ${two} where ${one} is wanted.`);
}

function comparedWidth(wanted: number | null, other: number | null): ComparedPoint {
  if (wanted === null || other === null) return unknown('width', wanted, other, 'Width');
  const difference = other - wanted;
  if (Math.abs(difference) <= sameMm) return point('width', 'serves', `${mm(other)}, the same.`);
  if (difference > 0) return point('width', 'no', `Width ${mm(other)} where there is room for ${mm(wanted)}.`);
  return point(
    'width',
    'with care',
    `${mm(-difference)} narrower than ${mm(wanted)}: what locates it endways must be made good.`,
  );
}

function comparedChamfer(wanted: number | null, other: number | null): ComparedPoint {
  if (wanted === null || other === null) return unknown('chamfer', wanted, other, 'The least chamfer');
  if (Math.abs(wanted - other) <= sameMm) return point('chamfer', 'serves', `Least chamfer ${mm(other)}, the same.`);
  if (other > wanted)
    return point(
      'chamfer',
      'with care',
      `Least chamfer ${mm(other)}, more than ${mm(wanted)}: see that the shoulder still carries it.`,
    );
  return point(
    'chamfer',
    'with care',
    `Least chamfer ${mm(other)}, less than ${mm(wanted)}: the fillet of the shaft may hold it off.`,
  );
}

function comparedClearance(wanted: Reading, other: Reading): ComparedPoint {
  if (isSetAtAssembly(wanted) && isSetAtAssembly(other))
    return point('clearance', 'serves', 'Both get their clearance when they are set up, not from the maker.');
  const [one, two] = [aspectOf(wanted, 'clearance'), aspectOf(other, 'clearance')];
  if (one === null || two === null) return unknown('clearance', one, two, 'Clearance');
  if (one === two) return point('clearance', 'serves', `${two}, the same.`);
  const order = clearanceValues as readonly string[];
  const more = order.indexOf(two) > order.indexOf(one) ? 'more' : 'less';
  return point('clearance', 'with care', `${two} is ${more} clearance than ${one}: fits and heat decide whether it may be.`);
}

const setAtAssembly: ReadonlySet<BearingType> = new Set(['taper roller', 'angular contact ball', 'thrust ball']);

function isSetAtAssembly(reading: Reading): boolean {
  return reading.type !== null && setAtAssembly.has(reading.type);
}

function comparedSeals(wanted: Reading, other: Reading): ComparedPoint {
  const [one, two] = [aspectOf(wanted, 'seals'), aspectOf(other, 'seals')];
  if (one === null || two === null) return unknown('seals', one, two, 'Seals');
  if (one === two) return point('seals', 'serves', `${capital(two)}, the same.`);
  if (two === 'open') return point('seals', 'no', `Open where ${one} is wanted: nothing keeps the grease in and the dirt out.`);
  if (one === 'open')
    return point('seals', 'with care', `${capital(two)} where an open one is wanted: oil from outside is kept off.`);
  return point('seals', 'with care', `${capital(two)} where ${one} is wanted: friction, speed and tightness differ.`);
}

function comparedGroove(wanted: Reading, other: Reading): ComparedPoint {
  const [one, two] = [aspectOf(wanted, 'groove'), aspectOf(other, 'groove')];
  if (one === null || two === null) return unknown('groove', one, two, 'A snap-ring groove');
  if (one === two) return point('groove', 'serves', one === 'none' ? 'Neither has a snap-ring groove.' : `Both: ${one}.`);
  if (two === 'none') return point('groove', 'no', 'No snap-ring groove: nothing holds the outer ring in its place.');
  if (one === 'none' && two === 'groove')
    return point('groove', 'serves', 'Has a snap-ring groove that is not wanted and does not hinder.');
  if (two === 'groove') return point('groove', 'with care', 'The groove is there, its ring must come from elsewhere.');
  return point('groove', 'with care', 'Comes with a snap ring that is not wanted: take it out, or it fouls the housing.');
}

function comparedCage(wanted: Reading, other: Reading): ComparedPoint {
  const [one, two] = [aspectOf(wanted, 'cage'), aspectOf(other, 'cage')];
  if (one === null || two === null) return unknown('cage', one, two, 'The cage');
  if (one === two) return point('cage', 'serves', `${capital(two)}, the same.`);
  return point('cage', 'with care', `Cage of ${two} where ${one} is wanted: heat, oil and speed decide.`);
}

function comparedTolerance(wanted: Reading, other: Reading): ComparedPoint {
  const [one, two] = [aspectOf(wanted, 'tolerance'), aspectOf(other, 'tolerance')];
  if (one === null || two === null) return unknown('tolerance class', one, two, 'The tolerance class');
  if (one === two) return point('tolerance class', 'serves', `${two}, the same.`);
  const order = toleranceValues as readonly string[];
  if (order.indexOf(two) > order.indexOf(one)) return point('tolerance class', 'serves', `${two} is finer than ${one}.`);
  return point('tolerance class', 'with care', `${two} is coarser than ${one}.`);
}

function comparedRating(wanted: number | null, other: number | null): ComparedPoint {
  if (wanted === null || other === null) return unknown('rating', wanted, other, 'The load rating');
  if (other >= wanted) return point('rating', 'serves', `${other} N, not less than ${wanted} N.`);
  return point('rating', 'with care', `${other} N, less than ${wanted} N: it will not last as long.`);
}

function unknown(name: Point, wanted: unknown, other: unknown, subject: string): ComparedPoint {
  const whose = wanted === null ? (other === null ? 'of either' : 'of the one wanted') : 'of the other';
  return point(name, 'unknown', `${subject} is not known ${whose}: look or measure.`);
}

function point(name: Point, answer: PointAnswer, reason: string): ComparedPoint {
  return { point: name, answer, reason };
}

function mm(value: number): string {
  return `${Number(value.toFixed(4))} mm`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
