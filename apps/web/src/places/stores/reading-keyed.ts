import { whyNoTeeth } from '@corewright/gears/ratio';
import type { RatioRead, Reading } from '@corewright/identify/known-type';
import { readingOfMarks, separateMarks } from '@corewright/identify/reading-of-marks';

/** What is keyed of a unit that somebody stands before. */
export interface ReadingKeyed {
  readonly maker: string;
  readonly serial: string;
  /** several set off by a point, a comma or a semicolon */
  readonly marks: string;
  readonly castings: string;
  readonly driver: string;
  readonly driven: string;
  readonly ratioLeast: string;
  readonly ratioMost: string;
  readonly features: Readonly<Record<string, boolean>>;
  readonly counts: Readonly<Record<string, string>>;
}

export const nothingKeyed: ReadingKeyed = {
  maker: '',
  serial: '',
  marks: '',
  castings: '',
  driver: '',
  driven: '',
  ratioLeast: '',
  ratioMost: '',
  features: {},
  counts: {},
};

/** The marks in the books as a first reading. */
export function keyedFromMarks(text: string): ReadingKeyed {
  const { serial, marks } = readingOfMarks(text);
  return { ...nothingKeyed, serial, marks: marks.join(' · ') };
}

/** What is keyed, as far as it can be read already. */
export function readingOf(keyed: ReadingKeyed): Reading {
  const counted = Object.entries(keyed.counts).filter(([, text]) => /^\d{1,4}$/.test(text.trim()));
  return {
    maker: keyed.maker.trim(),
    serial: keyed.serial.trim(),
    marks: separateMarks(keyed.marks),
    castings: separateMarks(keyed.castings),
    ratio: ratioRead(keyed),
    features: keyed.features,
    counts: Object.fromEntries(counted.map(([question, text]) => [question, Number(text)])),
  };
}

/** Counted teeth before counted turns: they say more. */
function ratioRead({ driver, driven, ratioLeast, ratioMost }: ReadingKeyed): RatioRead | null {
  const mesh = { driver: wholeOf(driver), driven: wholeOf(driven) };
  if (whyNoTeeth(mesh) === null) return { meshes: [mesh] };
  const [least, most] = [figureOf(ratioLeast), figureOf(ratioMost)];
  return least > 0 && least <= most ? { least, most } : null;
}

const wholeOf = (text: string): number => (/^\s*\d{1,4}\s*$/.test(text) ? Number(text) : Number.NaN);
const figureOf = (text: string): number =>
  /^\s*\d{1,4}([.,]\d{1,6})?\s*$/.test(text) ? Number(text.replace(',', '.')) : Number.NaN;
