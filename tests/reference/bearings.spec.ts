import { readFileSync } from 'node:fs';
import { findByMeasurement } from '@corewright/bearings/find-by-measurement';
import { readDesignation, tableName } from '@corewright/bearings/read-designation';
import { parse } from 'csv-parse/sync';

type Row = Record<string, string>;
const rowsOf = (path: string): Row[] => parse(readFileSync(new URL(path, import.meta.url)), { columns: true });

const shipped = rowsOf('../../apps/api/assets/bearings/boundary-dimensions.csv').map((row) => ({
  designation: row.designation!,
  boreMm: Number(row.bore_mm),
  outsideMm: Number(row.outside_mm),
  widthMm: Number(row.width_mm),
  chamfer: row.chamfer_min_mm!,
  source: row.source!,
  type: row.type!,
  series: row.dimension_series!,
}));
const table = new Map(shipped.map((row) => [row.designation, row]));
const facts = rowsOf('./bearing-facts.csv');
/** Makers' marks in the collected figures that change no dimension. */
const marks = ['ZZ', '2RS1', '2RZ'].map((suffix) => ({
  suffix,
  aspect: 'seals' as const,
  value: 'two shields',
  words: '',
  maker: '',
}));

/** Where the collected figures are wrong, and which is right. */
const rejected: Record<string, string> = {
  '16002ZZ 15x22x8': 'diameter series 0 of ISO 15 gives 32 mm outside for 15 mm of bore, as in 6002 (15 x 32): a misprint of 32',
  '603 3x9x5': 'dimension series 10 is 3 mm wide for 3 mm of bore; 5 mm is the capped form (from memory)',
  '638-2RZ 8x28x6': 'another list gives 8 x 28 x 9, which goes on from 637 (9) and to 639 (10) of diameter series 3',
  'R3ZZ 4.7625x12.7x3.9688': 'capped inch bearings are wider (ABMA 20, from memory); the list repeats the width of the open one',
  'R6ZZ 9.525x22.225x5.5562': 'the same',
  'R8ZZ 12.7x28.575x6.35': 'the same',
  'R10ZZ 15.875x34.925x7.1437': 'the same',
  'R14ZZ 22.225x47.625x9.525': 'the same',
  'R16ZZ 25.4x50.8x9.525': 'the same',
  'R18ZZ 28.575x53.975x9.525': 'the same',
  'R20ZZ 31.75x57.15x9.525': 'the same',
  'R22ZZ 34.925x63.5x11.1125': 'the same',
};
const keyOf = (fact: Row): string => `${fact.designation} ${fact.d}x${fact.D}x${fact.width}`;
const readable = facts.filter((fact) => !/^(MF|E2)/.test(fact.designation!));
const sources = [...new Set(facts.map((fact) => fact.source!))];

/**
 * A flange changes neither bore, outside of the ring nor width. The list with 673 to 699 gives the widths of the capped forms: 4 mm for
 * 684, where another list has 2.5 mm for the open one, 618/4.
 */
const asMarked = (designation: string): string => designation.replace(/^F/, '').replace(/^(6[789]\d)$/, '$1ZZ');
const rowFor = (designation: string) => table.get(tableName(readDesignation(asMarked(designation), marks)) ?? '');

describe('the shipped boundary dimensions', () => {
  it.each(sources)('agree with every figure of %s but the rejected ones', (source) => {
    const rows = readable.filter((fact) => fact.source === source && rejected[keyOf(fact)] === undefined);
    expect(rows.length).toBeGreaterThan(5);
    const differing = rows.filter((fact) => {
      const row = rowFor(fact.designation!);
      const same = (one: number | undefined, two: string | undefined) => Math.abs((one ?? 0) - Number(two)) <= 0.001;
      return !(same(row?.boreMm, fact.d) && same(row?.outsideMm, fact.D) && same(row?.widthMm, fact.width));
    });
    expect(differing.map((fact) => `${keyOf(fact)}; here ${JSON.stringify(rowFor(fact.designation!))}`)).toEqual([]);
  });

  it.each(Object.entries(rejected))('reject %s: %s', (key) => {
    const fact = facts.find((each) => keyOf(each) === key);
    const row = rowFor(fact!.designation!);
    expect(row).toBeDefined();
    expect([row!.boreMm, row!.outsideMm, row!.widthMm]).not.toEqual([fact!.d, fact!.D, fact!.width].map(Number));
  });

  it('hold at least 600 metric and 40 imperial designations, each once, each with a source', () => {
    const imperial = shipped.filter((row) => /ABMA|imperial/.test(row.source) || /^R\d/.test(row.designation));
    expect(imperial.length).toBeGreaterThanOrEqual(40);
    expect(shipped.length - imperial.length).toBeGreaterThanOrEqual(600);
    expect(table.size).toBe(shipped.length);
    expect(shipped.filter((row) => row.source === '')).toEqual([]);
    const impossible = shipped.filter((row) => !(row.boreMm > 0 && row.outsideMm > row.boreMm && row.widthMm > 0));
    expect(impossible).toEqual([]);
  });

  it('are read by the rules of ISO 15 and DIN 623-1 (from memory) to the same type, series and bore as they give', () => {
    const wrong = shipped.filter((row) => {
      const reading = readDesignation(row.designation, marks);
      const isRead = reading.stopped === null && reading.type === row.type && tableName(reading) === row.designation;
      const bore = reading.boreMm === null || Math.abs(reading.boreMm - row.boreMm) <= 0.001;
      return !(isRead && bore && (row.series === '' || row.series === reading.dimensionSeries));
    });
    expect(wrong.map((row) => `${row.designation}: ${row.type} ${row.series}`)).toEqual([]);
  });

  it('give widths of the same diameter series alike, whatever the type (the plan of ISO 15: 6205, 7205, 1205, NU 205 are 25 x 52 x 15)', () => {
    const dimensions = ['6205', '7205', '1205', 'NU 205', 'N 205', 'NJ 205', 'NUP 205'].map((name) => {
      const row = table.get(name)!;
      return [row.boreMm, row.outsideMm, row.widthMm];
    });
    expect(new Set(dimensions.map(String))).toEqual(new Set(['25,52,15']));
  });

  it('give one outside diameter to a bore and a diameter series, and one width to a dimension series (the plan of ISO 15), but for 161', () => {
    const planned = shipped.filter((row) => row.series !== '' && !/thrust/.test(row.type) && !row.designation.startsWith('161'));
    // Taper rollers have their width by ISO 355, and double row angular contact bearings one of their own.
    const ownWidth = new Set(['taper roller', 'double row angular contact ball']);
    const differing: string[] = [];
    const firstOf = new Map<string, string>();
    const same = (key: string, value: number, designation: string): void => {
      const first = firstOf.get(key) ?? `${value}`;
      firstOf.set(key, first);
      if (first !== `${value}`) differing.push(`${designation}: ${key} is ${value}, elsewhere ${first}`);
    };
    for (const row of planned) {
      same(`outside of ${row.boreMm} in diameter series ${row.series.at(-1)}`, row.outsideMm, row.designation);
      if (!ownWidth.has(row.type)) same(`width of ${row.boreMm} in series ${row.series}`, row.widthMm, row.designation);
    }
    expect(planned.length).toBeGreaterThan(900);
    expect(differing).toEqual([]);
  });
});

describe('by measurement over the whole shipped table', () => {
  it('finds each collected figure again within 0.01 mm (figures of the same lists)', () => {
    const lost = readable
      .filter((fact) => rejected[keyOf(fact)] === undefined)
      .filter((fact) => {
        const measured = { boreMm: Number(fact.d), outsideMm: Number(fact.D), widthMm: Number(fact.width) };
        const found = findByMeasurement(shipped, measured, 0.01);
        return !(found.ok && found.value.candidates.some((each) => each.row === rowFor(fact.designation!)));
      });
    expect(lost.map(keyOf)).toEqual([]);
  });
});
