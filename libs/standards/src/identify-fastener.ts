import { millimetresPerInch } from '@corewright/quantities/inch';
import { accept, type Result, refuse } from '@corewright/quantities/result';
import { seriesFacts, type Thread, threads } from './threads.js';

export type OutsideUnit = 'mm' | 'in';
export type PitchKind = 'tpi' | 'mm';
export type FastenerState = 'new' | 'worn' | 'plated';
/** Degrees between the flanks, as a gauge or a glass tells them. */
export const flankAngles = [47.5, 55, 60] as const;
export type FlankAngle = (typeof flankAngles)[number];

export interface FastenerMeasured {
  /** As keyed: "7.9", "0.3125", "5/16", "1 1/4". */
  readonly outside: string;
  readonly outsideUnit: OutsideUnit;
  /** As keyed; empty when nobody could count it. */
  readonly pitch: string;
  readonly pitchKind: PitchKind;
  readonly state: FastenerState;
  /** How far the outside may be off, in its unit, as keyed; empty for what a calliper is trusted to. */
  readonly tolerance: string;
  /** Null when nobody knows. */
  readonly flankAngle: FlankAngle | null;
}

export interface FastenerCandidate {
  readonly thread: Thread;
  /** Its pitch was measured, and no other thread fits, nor ties with it but for the flanks. */
  readonly isCertain: boolean;
  /** Names of threads that what is known of it cannot tell from it. */
  readonly tiedWith: readonly string[];
  readonly reasons: readonly string[];
}

export interface FastenerAnswer {
  /** Best first. */
  readonly candidates: readonly FastenerCandidate[];
  /** What to ask when the figures fit another unit, so much as 25.4 times off. */
  readonly questions: readonly string[];
}

export type MeasureRefusal = 'not-a-measure' | 'fraction-in-mm' | 'out-of-range';

/** What a hand-held calliper is trusted to, mm. Common practice. */
const calliperMm = 0.1;
/** How far a screw's crests stand under nominal, as a part of the diameter: made so (new), and worn. Common practice. */
const underByState: Readonly<Record<FastenerState, number>> = { new: 0.025, worn: 0.05, plated: 0.025 };
/** What plating adds across a diameter at the most, mm. Common practice. */
const platingMm = 0.1;
/** How far a pitch read with a gauge or counted over an inch may be off. */
const pitchShare = 0.03;
const largestMm = 80;

/** Reads a length as people key it; fractions only of inches. */
export function readMeasure(text: string, isInches: boolean): Result<number, MeasureRefusal> {
  const keyed = text.trim();
  const mixed = /^(?:(\d{1,3})[ -])?(\d{1,3})\/(\d{1,3})$/.exec(keyed);
  if (mixed && !isInches)
    return refuse('fraction-in-mm', `"${keyed}" is a fraction. Choose inches, or key millimetres such as 7.9.`);
  const value = mixed ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : Number(keyed);
  const isPlain = mixed !== null || /^(?:\d{1,4}(?:\.\d{0,6})?|\.\d{1,6})$/.test(keyed);
  if (!isPlain || !Number.isFinite(value) || value <= 0)
    return refuse(
      'not-a-measure',
      `"${keyed}" is no measurement. Key figures with a point, such as 7.9, or a fraction of an inch, 5/16.`,
    );
  return accept(value);
}

/** Which threads a screw can have by its outside diameter and its pitch. */
export function identifyFastener(measured: FastenerMeasured): Result<FastenerAnswer, MeasureRefusal> {
  const outside = readMeasure(measured.outside, measured.outsideUnit === 'in');
  if (!outside.ok) return outside;
  const pitch = measured.pitch.trim() === '' ? null : readMeasure(measured.pitch, measured.pitchKind === 'tpi');
  if (pitch !== null && !pitch.ok) return pitch;
  const tolerance = measured.tolerance.trim() === '' ? null : readMeasure(measured.tolerance, measured.outsideUnit === 'in');
  if (tolerance !== null && !tolerance.ok) return tolerance;
  const unitMm = measured.outsideUnit === 'in' ? millimetresPerInch : 1;
  const outsideMm = outside.value * unitMm;
  const known = { ...measured, toleranceMm: tolerance === null ? calliperMm : tolerance.value * unitMm };
  const pitchMm = pitch === null ? null : pitchInMm(pitch.value, measured.pitchKind);
  const candidates = candidatesFor(outsideMm, pitchMm, known);
  const questions = candidates.length > 0 ? [] : questionsFor(known, outside.value, pitch?.value ?? null);
  if (candidates.length === 0 && questions.length === 0 && outsideMm > largestMm)
    return refuse(
      'out-of-range',
      `${sayMm(outsideMm)} is larger than any thread in the tables here, which end near ${largestMm} mm.`,
    );
  return accept({ candidates, questions });
}

function pitchInMm(value: number, kind: PitchKind): number {
  return kind === 'tpi' ? millimetresPerInch / value : value;
}

interface Fit {
  readonly thread: Thread;
  readonly outsideOff: number;
  readonly pitchOff: number;
  /** Nought is exact, one is the edge of what is allowed, for each of the two. */
  readonly badness: number;
}

/** What is known of the screw beside its figures. */
type Known = FastenerMeasured & { readonly toleranceMm: number };

function fitsOf(outsideMm: number, pitchMm: number | null, { state, toleranceMm, flankAngle }: Known): Fit[] {
  const fits = threads.flatMap((thread) => {
    if (flankAngle !== null && thread.flankAngle !== flankAngle) return [];
    const outsideOff = outsideMm - thread.majorMm;
    const under = toleranceMm + underByState[state] * thread.majorMm;
    const over = toleranceMm + (state === 'plated' ? platingMm : 0);
    const pitchOff = pitchMm === null ? 0 : pitchMm / thread.pitchMm - 1;
    const outsidePart = outsideOff < 0 ? -outsideOff / under : outsideOff / over;
    const pitchPart = Math.abs(pitchOff) / pitchShare;
    return outsidePart > 1 || pitchPart > 1 ? [] : [{ thread, outsideOff, pitchOff, badness: outsidePart + pitchPart }];
  });
  return fits.sort((a, b) => a.badness - b.badness);
}

function candidatesFor(outsideMm: number, pitchMm: number | null, known: Known): FastenerCandidate[] {
  const fits = fitsOf(outsideMm, pitchMm, known);
  return fits.map((fit) => {
    const alike = threads.filter((other) => isTie(fit.thread, other));
    const isApart = (other: Thread) => known.flankAngle !== null && other.flankAngle !== known.flankAngle;
    const rivals = alike.filter((other) => !isApart(other));
    return {
      thread: fit.thread,
      isCertain: pitchMm !== null && fits.length === 1 && rivals.length === 0,
      tiedWith: rivals.map((rival) => rival.name),
      reasons: [
        outsideReason(fit, outsideMm, known.state),
        pitchReason(fit, pitchMm),
        ...rivals.map((rival) => tieReason(fit.thread, rival)),
        ...alike.filter(isApart).map((other) => apartReason(fit.thread, other)),
      ],
    };
  });
}

/** Alike to within what a calliper and a pitch gauge tell: half a hundredth of the diameter, a hundredth of the pitch. */
function isTie(one: Thread, other: Thread): boolean {
  if (one === other) return false;
  return Math.abs(one.majorMm / other.majorMm - 1) <= 0.005 && Math.abs(one.pitchMm / other.pitchMm - 1) <= 0.01;
}

function outsideReason({ thread, outsideOff }: Fit, outsideMm: number, state: FastenerState): string {
  const off = Math.abs(outsideOff);
  const nominal = `${sayMm(outsideMm)} outside against ${sayMm(thread.majorMm)}`;
  if (off < 0.005) return `${nominal}: the same.`;
  if (outsideOff > 0) return `${nominal}: ${sayMm(off)} large${state === 'plated' ? ', as plating makes it' : ''}.`;
  return `${nominal}: ${sayMm(off)} small, as ${state === 'worn' ? 'wear makes it' : 'screws are made'}.`;
}

function pitchReason({ thread, pitchOff }: Fit, pitchMm: number | null): string {
  const asGiven = thread.threadsPerInch === null ? sayMm(thread.pitchMm) : `${thread.threadsPerInch} to the inch`;
  if (pitchMm === null) return `The pitch was not measured; this thread's is ${asGiven}.`;
  const percent = Math.abs(pitchOff * 100);
  if (percent < 0.1) return `Pitch ${asGiven}: the same.`;
  return `Pitch ${asGiven}: yours is ${percent.toFixed(1)} % ${pitchOff > 0 ? 'coarser' : 'finer'}.`;
}

function tieReason(thread: Thread, rival: Thread): string {
  const mine = seriesFacts[thread.series];
  const theirs = seriesFacts[rival.series];
  const tie = `A tie with ${rival.name}: diameter and pitch do not tell them apart.`;
  if (mine.flankAngle === theirs.flankAngle) return `${tie} Both have ${mine.form}.`;
  return `${tie} This one has ${mine.form}, that one ${theirs.form}.`;
}

function apartReason(thread: Thread, other: Thread): string {
  return `By its figures ${other.name} would fit as well: the flanks at ${thread.flankAngle} degrees, not ${other.flankAngle}, tell them apart.`;
}

/** Whether the same figures fit when one of them, or both, were meant in the other unit. */
function questionsFor(measured: Known, outside: number, pitch: number | null): string[] {
  const otherUnit: OutsideUnit = measured.outsideUnit === 'mm' ? 'in' : 'mm';
  const otherKind: PitchKind = measured.pitchKind === 'mm' ? 'tpi' : 'mm';
  const readings: readonly [OutsideUnit, PitchKind][] = [
    [otherUnit, measured.pitchKind],
    ...(pitch === null
      ? []
      : ([
          [measured.outsideUnit, otherKind],
          [otherUnit, otherKind],
        ] as [OutsideUnit, PitchKind][])),
  ];
  const otherwise = readings.flatMap(([unit, kind]) => {
    const outsideMm = unit === 'in' ? outside * millimetresPerInch : outside;
    const best = fitsOf(outsideMm, pitch === null ? null : pitchInMm(pitch, kind), measured)[0];
    if (best === undefined) return [];
    const meant = [
      ...(unit === measured.outsideUnit ? [] : [`the outside ${measured.outside.trim()} ${sayUnit(unit)}`]),
      ...(kind === measured.pitchKind
        ? []
        : [`the pitch ${measured.pitch.trim()} ${kind === 'tpi' ? 'threads to the inch' : 'millimetres'}`]),
    ];
    return [`Nothing fits as keyed. Is ${meant.join(' and ')}? Then it would be ${best.thread.name}.`];
  });
  return [...flankQuestion(measured, outside, pitch), ...otherwise];
}

/** Whether the same figures fit with other flanks: an angle is easily misread on a worn thread. */
function flankQuestion(measured: Known, outside: number, pitch: number | null): string[] {
  const { flankAngle, outsideUnit, pitchKind } = measured;
  if (flankAngle === null) return [];
  const outsideMm = outsideUnit === 'in' ? outside * millimetresPerInch : outside;
  const best = fitsOf(outsideMm, pitch === null ? null : pitchInMm(pitch, pitchKind), { ...measured, flankAngle: null })[0];
  if (best === undefined) return [];
  return [
    `Nothing with flanks at ${flankAngle} degrees fits. Are they at ${best.thread.flankAngle}? Then it would be ${best.thread.name}.`,
  ];
}

function sayUnit(unit: OutsideUnit): string {
  return unit === 'in' ? 'inches' : 'millimetres';
}

function sayMm(value: number): string {
  return `${Number(value.toFixed(3))} mm`;
}
