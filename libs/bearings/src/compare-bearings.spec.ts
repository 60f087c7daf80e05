import { type BearingFacts, compareBearings, contradictionsMeasured, type Point } from './compare-bearings';
import { readDesignation } from './read-designation';

function facts(words: string, dimensions: [number, number, number] | null, more: Partial<BearingFacts> = {}): BearingFacts {
  const [boreMm, outsideMm, widthMm] = dimensions ?? [null, null, null];
  return { reading: readDesignation(words, []), boreMm, outsideMm, widthMm, chamferMinMm: null, ratingN: null, ...more };
}
const size: [number, number, number] = [25, 52, 15];
const answer = (wanted: BearingFacts, other: BearingFacts, name: Point) =>
  compareBearings(wanted, other).points.find((each) => each.point === name);

describe('comparing two bearings', () => {
  it('gives a reason for each point and says what is not known', () => {
    const compared = compareBearings(facts('6205', size, { chamferMinMm: 1 }), facts('6205', size, { chamferMinMm: 1 }));
    expect(compared.verdict).toBe('drop-in');
    expect(compared.points.map((each) => each.point)).toEqual([
      'type',
      'pieces',
      'bore',
      'outside',
      'width',
      'chamfer',
      'clearance',
      'seals',
      'groove',
      'cage',
      'tolerance class',
      'rating',
    ]);
    expect(compared.points.every((each) => each.reason.length > 0)).toBe(true);
    expect(compared.sentence).toBe('Drop-in on every point that is known. Not known, and not taken as equal: cage, rating.');
  });

  it('never takes an unknown figure as equal', () => {
    const compared = compareBearings(facts('6205', size), facts('6205', null));
    expect(compared.verdict).toBe('with care');
    expect(compared.points.find((each) => each.point === 'bore')?.answer).toBe('unknown');
    expect(answer(facts('6205', size), facts('6205-XQ7', size), 'clearance')?.answer).toBe('unknown');
  });

  it.each<[string, string, Point, string, string]>([
    ['6205', '6205-C3', 'clearance', 'with care', 'with care'],
    ['6205-C3', '6205-C2', 'clearance', 'with care', 'with care'],
    ['6205-2RS', '6205', 'seals', 'no', 'no'],
    ['6205', '6205-2Z', 'seals', 'with care', 'with care'],
    ['6205-N', '6205', 'groove', 'no', 'no'],
    ['6205', '6205-N', 'groove', 'serves', 'drop-in'],
    ['6205', '6205-NR', 'groove', 'with care', 'with care'],
    ['6205-M', '6205-TN', 'cage', 'with care', 'with care'],
    ['6205', '6205-P5', 'tolerance class', 'serves', 'drop-in'],
    ['6205-P5', '6205', 'tolerance class', 'with care', 'with care'],
    ['6205', 'NU 205', 'type', 'no', 'no'],
    ['N 205', 'NU 205', 'type', 'with care', 'with care'],
    ['NUP 205', '6205', 'type', 'with care', 'with care'],
    ['1205', '1205-K', 'bore', 'no', 'no'],
  ])('in place of %s, %s: %s %s, in all %s', (wanted, other, point, pointAnswer, verdict) => {
    expect(answer(facts(wanted, size), facts(other, size), point)?.answer).toBe(pointAnswer);
    expect(compareBearings(facts(wanted, size), facts(other, size)).verdict).toBe(verdict);
  });

  it('refuses another bore or outside, and a wider one; a narrower one only with care', () => {
    expect(answer(facts('6205', size), facts('6205', [25.4, 52, 15]), 'bore')).toMatchObject({
      answer: 'no',
      reason: 'Bore 25.4 mm where 25 mm is wanted.',
    });
    expect(answer(facts('6205', size), facts('6205', [25, 52, 15.1]), 'width')?.answer).toBe('no');
    expect(answer(facts('6205', size), facts('6205', [25, 52, 14.9]), 'width')?.answer).toBe('with care');
  });

  it('takes a rounded inch as the same', () => {
    const one = facts('L44649/L44610', [26.9875, 50.292, 14.224]);
    expect(answer(one, facts('L44649/L44610', [26.988, 50.292, 14.224]), 'bore')?.answer).toBe('serves');
  });

  it('knows a cone without its cup for a half', () => {
    const whole = facts('LM11949/LM11910', [19.05, 45.237, 15.494]);
    const half = compareBearings(whole, facts('LM11949', null));
    expect(half.verdict).toBe('no');
    expect(half.points.find((each) => each.point === 'pieces')?.reason).toContain('a half');
    expect(answer(facts('LM11949', null), whole, 'pieces')?.answer).toBe('with care');
  });

  it('compares load ratings where both are written down', () => {
    const rated = (ratingN: number) => facts('6205', size, { ratingN });
    expect(answer(rated(14_000), rated(14_800), 'rating')?.answer).toBe('serves');
    expect(answer(rated(14_000), rated(11_000), 'rating')?.answer).toBe('with care');
  });

  it('flags a designation that contradicts the dimensions beside it', () => {
    const compared = compareBearings(facts('6205', [30, 52, 15]), facts('6206', [30, 62, 16]));
    expect(compared.contradictions).toEqual(['6205 says bore 25 mm, but 30 mm stands beside it.']);
  });

  it('flags what was measured against its number, and asks about the unit; what is not known is not flagged', () => {
    const nothing = { boreMm: null, outsideMm: null, widthMm: null };
    const bearing = facts('6205', size);
    expect(contradictionsMeasured(bearing, { boreMm: 25.05, outsideMm: 51.9, widthMm: 15 }, 0.1)).toEqual([]);
    expect(contradictionsMeasured(bearing, { ...nothing, boreMm: 30 }, 0.1)).toEqual([
      '6205 has bore 25 mm, but 30 mm was measured.',
    ]);
    expect(contradictionsMeasured(bearing, { ...nothing, outsideMm: 2.047 }, 0.1)[0]).toContain('Did you measure in inches?');
    expect(contradictionsMeasured(facts('rear hub', null), { ...nothing, boreMm: 30 }, 0.1)).toEqual([]);
  });
});
