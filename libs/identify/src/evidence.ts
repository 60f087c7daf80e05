import { ratioOf, sayRatio } from '@corewright/gears/ratio';
import type { KnownType, Reading, Sign, SignWeight } from './known-type.js';
import { questionOf } from './known-type.js';
import { keyOfReading, matchMark } from './match-mark.js';
import { serialStanding } from './serial.js';

/** What one reading says of one type. */
export interface Evidence {
  points: number;
  /** it cannot be this type if the reading is right */
  rulesOut: boolean;
  sentence: string;
}

/** What each evidence counts: a rule of ours. Marks and signs by their weight; half, rounded up, where not all of a mark was read. */
export const pointsOf = {
  sign: { hint: 1, good: 3, decisive: 6 } satisfies Record<SignWeight, number>,
  serialWhole: 8,
  serialOpen: 3,
  teeth: 4,
  ratio: 2,
  maker: 2,
} as const;

const speaksFor = (points: number, sentence: string): Evidence => ({ points, rulesOut: false, sentence });
const speaksAgainst = (points: number, sentence: string): Evidence => ({ points: -points, rulesOut: false, sentence });
const rulesOut = (points: number, sentence: string): Evidence => ({ points: -points, rulesOut: true, sentence });

/** Everything that was read and that says something of this type, for and against. */
export function evidenceFor(type: KnownType, reading: Reading): Evidence[] {
  return [
    ofSerial(type, reading.serial),
    ...type.signs.map((sign) => ofSign(sign, reading)),
    ofRatio(type, reading),
    ofMaker(type, reading.maker),
  ].filter((evidence) => evidence !== null);
}

function ofSerial(type: KnownType, serial: string): Evidence | null {
  const said = type.serials.map(({ prefix, first, last }) => `${prefix} ${first} to ${last}`).join(', ');
  switch (serialStanding(type.serials, serial)) {
    case 'whole':
      return speaksFor(pointsOf.serialWhole, `Serial ${serial} lies within ${said}.`);
    case 'open':
      return speaksFor(pointsOf.serialOpen, `Serial ${serial} may lie within ${said}, by the figures that can be read.`);
    case 'outside':
      return rulesOut(pointsOf.serialWhole, `Serial ${serial} cannot be one of ${said}.`);
    case null:
      return null;
  }
}

function ofSign(sign: Sign, reading: Reading): Evidence | null {
  switch (sign.kind) {
    case 'stamp':
      return ofMark(sign, [reading.serial, ...reading.marks], 'Mark');
    case 'casting':
      return ofMark(sign, [...reading.castings, ...reading.marks], 'Casting number');
    case 'feature':
      return ofFeature(sign, answerTo(reading.features, sign));
    case 'count':
      return ofCount(sign, answerTo(reading.counts, sign));
  }
}

/** Own answers only: a question may be worded as anything, "constructor" too. */
function answerTo<Answer>(answers: Readonly<Record<string, Answer>>, sign: Sign): Answer | undefined {
  const question = questionOf(sign);
  return Object.hasOwn(answers, question) ? answers[question] : undefined;
}

/** A mark that is not found says nothing: it may be elsewhere, or filed off. */
function ofMark(sign: Sign, marks: readonly string[], what: string): Evidence | null {
  const full = pointsOf.sign[sign.weight];
  let best: { points: number; mark: string } | null = null;
  for (const mark of marks) {
    const match = matchMark(sign.pattern, mark);
    if (match === null) continue;
    const points = match.legible === match.given ? full : Math.ceil(full / 2);
    if (best === null || points > best.points) best = { points, mark };
  }
  if (best === null) return null;
  const where = sign.position === '' ? '' : `, ${sign.position}`;
  return speaksFor(best.points, `${what} ${best.mark} fits ${sign.pattern}${where}${sayYears(sign)}.`);
}

function ofFeature(sign: Sign, seen: boolean | undefined): Evidence | null {
  if (seen === undefined) return null;
  const points = pointsOf.sign[sign.weight];
  const said = `“${sign.words}”`;
  if (seen) return speaksFor(points, `Seen: ${said}${sayYears(sign)}.`);
  const sentence = `Looked for and not so: ${said}.`;
  return sign.weight === 'decisive' ? rulesOut(points, sentence) : speaksAgainst(points, sentence);
}

function ofCount(sign: Sign, counted: number | undefined): Evidence | null {
  if (counted === undefined) return null;
  const points = pointsOf.sign[sign.weight];
  if (String(counted) === sign.pattern) return speaksFor(points, `${counted} ${sign.position}, as it has${sayYears(sign)}.`);
  const sentence = `${counted} ${sign.position}; it has ${sign.pattern}.`;
  return sign.weight === 'decisive' ? rulesOut(points, sentence) : speaksAgainst(points, sentence);
}

/** Gears get changed: a ratio that differs speaks against a type, and never rules it out. */
function ofRatio({ gears }: KnownType, { ratio }: Reading): Evidence | null {
  if (ratio === null || gears.length === 0) return null;
  const known = gears.map(({ gear, meshes }) => ({ gear, meshes, ratio: ratioOf(meshes) }));
  const said = known.map((each) => `${sayRatio(each.ratio)}${each.gear === '' ? '' : ` in ${each.gear}`}`).join(', ');
  if ('least' in ratio) {
    const fits = known.some(({ ratio: { numerator, denominator } }) => {
      const value = numerator / denominator;
      return value >= ratio.least && value <= ratio.most;
    });
    const between = `between ${ratio.least.toFixed(3)} and ${ratio.most.toFixed(3)} by counted turns`;
    return fits
      ? speaksFor(pointsOf.ratio, `Ratio ${between}; it has ${said}.`)
      : speaksAgainst(pointsOf.ratio, `Ratio ${between}; it has ${said}, unless the gears were changed.`);
  }
  const counted = ratioOf(ratio.meshes);
  const teeth = sayTeeth(ratio.meshes);
  if (known.some((each) => sayTeeth(each.meshes) === teeth)) return speaksFor(pointsOf.teeth, `Teeth ${teeth}, as it has.`);
  const isSame = known.some(
    (each) => each.ratio.numerator === counted.numerator && each.ratio.denominator === counted.denominator,
  );
  return isSame
    ? speaksFor(pointsOf.ratio, `Ratio ${sayRatio(counted)} as it has, by other teeth.`)
    : speaksAgainst(
        pointsOf.ratio,
        `Ratio ${sayRatio(counted)} by teeth ${teeth}; it has ${said}, unless the gears were changed.`,
      );
}

const sayTeeth = (meshes: readonly { driver: number; driven: number }[]): string =>
  meshes.map(({ driver, driven }) => `${driver} and ${driven}`).join(', then ');

function ofMaker({ maker }: KnownType, read: string): Evidence | null {
  const [known, key] = [keyOfReading(maker), keyOfReading(read)];
  if (!/[^?]{2}/.test(key) || known === '') return null;
  const match = matchMark(`*${known}*`, key) ?? matchMark(`*${key.replaceAll('?', '')}*`, known);
  if (match !== null) return speaksFor(pointsOf.maker, `${read} stands on it; the maker is ${maker}.`);
  return speaksAgainst(pointsOf.maker, `${read} stands on it; the maker is ${maker}, who may have had it made elsewhere.`);
}

function sayYears({ yearFirst, yearLast }: Sign): string {
  if (yearFirst === null && yearLast === null) return '';
  if (yearFirst === null) return `, which means up to ${yearLast}`;
  if (yearLast === null) return `, which means from ${yearFirst}`;
  return yearFirst === yearLast ? `, which means ${yearFirst}` : `, which means ${yearFirst} to ${yearLast}`;
}
