import { readFileSync } from 'node:fs';
import { identifyFastener } from '@corewright/standards/identify-fastener';
import { type Thread, threads } from '@corewright/standards/threads';

/** Figures alone, under their sources: series, size, major diameter and pitch in mm. */
const published = JSON.parse(readFileSync(new URL('./published-threads.json', import.meta.url), 'utf8')) as Record<
  string,
  [string, string, number, number][]
>;

function ours(series: string, size: string): Thread | undefined {
  if (series === 'M') return threads.find((each) => each.series === 'M coarse' && each.name.startsWith(`${size} x `));
  const name = size.startsWith('#') ? `No. ${size.slice(1)} ${series}` : `${size.replace('-', ' ')} in ${series}`;
  return threads.find((each) => each.name === name);
}

/** What a person finds who measures a thread exactly. */
function measured(outsideMm: number, threadsPerInch: number): string[] {
  const answer = identifyFastener({
    outside: outsideMm.toFixed(4),
    outsideUnit: 'mm',
    pitch: String(threadsPerInch),
    pitchKind: 'tpi',
    state: 'new',
    tolerance: '',
    flankAngle: null,
  });
  return answer.ok ? answer.value.candidates.map((each) => `${each.thread.name}${each.isCertain ? '' : ', tie'}`) : [];
}

for (const [source, rows] of Object.entries(published)) {
  it(`has the ${rows.length} major diameters and pitches of ${source}`, () => {
    const wrong = rows.filter(([series, size, major, pitch]) => {
      const thread = ours(series, size);
      return !thread || Math.abs(thread.majorMm - major) > 0.0006 || Math.abs(thread.pitchMm - pitch) > 0.0001;
    });
    expect(wrong).toEqual([]);
  });
}

it.each([
  // number, pitch and diameter in mm
  [0, 1, 6],
  [2, 0.81, 4.7],
  [4, 0.66, 3.6],
  [6, 0.53, 2.8],
  [8, 0.43, 2.2],
  [10, 0.35, 1.7],
  [12, 0.28, 1.3],
  [14, 0.23, 1],
  [16, 0.19, 0.79],
])('%i BA by BS 93, figures of the table from memory: pitch %d mm, diameter %d mm, 47.5 degrees', (number, pitchMm, majorMm) => {
  expect(threads.find((each) => each.name === `${number} BA`)).toMatchObject({ pitchMm, majorMm, flankAngle: 47.5 });
});

it.each([
  ['1/4', 20],
  ['5/16', 18],
  ['3/8', 16],
  ['7/16', 14],
  ['9/16', 12],
  ['5/8', 11],
  ['3/4', 10],
  ['7/8', 9],
  ['1', 8],
])('%s in: BSW and UNC are a tie at %i to the inch (BS 84 against NBS Handbook H28)', (size, perInch) => {
  const [over = 1, under = 1] = size.split('/').map(Number);
  const found = measured((over / under) * 25.4, perInch);
  expect(found).toEqual(expect.arrayContaining([`${size} in BSW, tie`, `${size} in UNC, tie`]));
});

it('1/2 in is no tie: BSW 12 against UNC 13 to the inch (both from memory)', () => {
  expect(measured(12.7, 12)).toEqual(['1/2 in BSW']);
  expect(measured(12.7, 13)).toEqual(['1/2 in UNC']);
});

it('0 BA and M6 x 1 are a tie that the flank angle settles: 47.5 against 60 degrees (BS 93 and ISO 261)', () => {
  expect(measured(6, 25.4)).toEqual(expect.arrayContaining(['0 BA, tie', 'M6 x 1, tie']));
});
