import fc from 'fast-check';
import { type KnownType, nothingRead, type Reading, type Sign } from './known-type.js';
import { matchMark } from './match-mark.js';
import { rankTypes } from './rank-types.js';
import { serialStanding } from './serial.js';

const sign = (more: Partial<Sign>): Sign => ({
  kind: 'stamp',
  position: '',
  pattern: '',
  yearFirst: null,
  yearLast: null,
  words: '',
  weight: 'good',
  ...more,
});
const noseStuds = (count: string) =>
  sign({ kind: 'count', position: 'studs on the nose piece', pattern: count, weight: 'decisive' });
const round = sign({ kind: 'feature', words: 'round nose piece' });

const s11: KnownType = {
  id: 's11',
  name: 'Dunmarrow S11',
  maker: 'Dunmarrow',
  signs: [noseStuds('12'), round, sign({ pattern: 'S11 *', position: 'nose piece flange', weight: 'good' })],
  serials: [{ prefix: 'S11', first: 9001, last: 31450 }],
  gears: [{ gear: '', meshes: [{ driver: 7, driven: 39 }] }],
};
const s9: KnownType = { ...s11, id: 's9', name: 'Dunmarrow S9', signs: [noseStuds('10'), round], serials: [], gears: [] };
const wd7: KnownType = {
  id: 'wd7',
  name: 'Brantock WD7',
  maker: 'Brantock',
  signs: [sign({ kind: 'casting', pattern: '48 B 6', yearFirst: 1938, yearLast: 1946, weight: 'good' })],
  serials: [{ prefix: 'WD7', first: 1, last: 6990 }],
  gears: [{ gear: '', meshes: [{ driver: 4, driven: 31 }] }],
};
const all = [s11, s9, wd7];
const reading = (more: Partial<Reading>): Reading => ({ ...nothingRead, ...more });

describe('a mark', () => {
  it('fits what the books describe, though some of it cannot be read', () => {
    expect(matchMark('WD7 *', 'WD7 33?6')).toEqual({ legible: 3, given: 3 });
    expect(matchMark('48 B 6', '48 ? 6')).toEqual({ legible: 3, given: 4 });
    expect(matchMark('4?B*9', '48-B-6 9')).toEqual({ legible: 3, given: 3 });
  });

  it('does not fit where one character was read against it, or where next to nothing was read', () => {
    expect(matchMark('48 B 6', '48 B 9')).toBeNull();
    expect(matchMark('48 B 6', '48 B 66')).toBeNull();
    expect(matchMark('48 B 6', '????')).toBeNull();
    expect(matchMark('*', 'WD7')).toBeNull();
  });
});

describe('a serial', () => {
  it.each([
    ['WD7 3306', 'whole'],
    ['WD7 33??', 'open'],
    ['WD7 6???', 'open'],
    ['WD7 7???', 'outside'],
    ['WD7 69?9', 'open'],
    ['WD7 9000', 'outside'],
    ['WD5 3306', 'outside'],
    ['WD? 3306', 'open'],
    ['3306', 'outside'],
    ['????', null],
    ['', null],
  ])('%s stands to WD7 1 to 6990: %s', (serial, standing) => {
    expect(serialStanding(wd7.serials, serial)).toBe(standing);
  });

  it('with figures unread may lie within exactly where some reading of them does, as trying all of them shows', () => {
    const figure = fc.constantFrom(...'0123456789??');
    fc.assert(
      fc.property(
        fc.array(figure, { minLength: 1, maxLength: 3 }),
        fc.nat({ max: 999 }),
        fc.nat({ max: 300 }),
        (figures, first, length) => {
          const text = figures.join('');
          const tried = Array.from({ length: 10 ** figures.length }, (_, index) => String(index).padStart(figures.length, '0'));
          const isWithin = tried.some(
            (each) =>
              Array.from(each).every((one, at) => text[at] === '?' || text[at] === one) &&
              Number(each) >= first &&
              Number(each) <= first + length,
          );
          const standing = serialStanding([{ prefix: 'A', first, last: first + length }], `A${text}`);
          expect(standing === 'whole' || standing === 'open').toBe(isWithin);
        },
      ),
      { seed: 51 },
    );
  });
});

describe('the types, ranked by what was read', () => {
  it('say why, for and against, with the years that a casting means', () => {
    const { candidates } = rankTypes(all, reading({ castings: ['48 B 6'], maker: 'BRANT?CK' }));
    expect(candidates[0]).toEqual({
      typeId: 'wd7',
      name: 'Brantock WD7',
      points: 5,
      speaksFor: [
        'Casting number 48 B 6 fits 48 B 6, which means 1938 to 1946.',
        'BRANT?CK stands on it; the maker is Brantock.',
      ],
      speaksAgainst: [],
    });
  });

  it('tell two types apart by one count, and rule out the one that it contradicts', () => {
    const { candidates, ruledOut } = rankTypes(
      all,
      reading({ counts: { 'studs on the nose piece': 10 }, features: { 'round nose piece': true } }),
    );
    expect(candidates.map(({ typeId }) => typeId)).toEqual(['s9']);
    expect(ruledOut).toEqual([
      expect.objectContaining({ typeId: 's11', speaksAgainst: ['10 studs on the nose piece; it has 12.'] }),
    ]);
  });

  it('are not ruled out by another ratio: gears get changed', () => {
    const counted = rankTypes(all, reading({ ratio: { meshes: [{ driver: 8, driven: 39 }] }, maker: 'Dunmarrow' }));
    expect(counted.ruledOut).toEqual([]);
    expect(counted.candidates.find(({ typeId }) => typeId === 's11')?.speaksAgainst).toEqual([
      'Ratio 4.875 by teeth 8 and 39; it has 5.571, unless the gears were changed.',
    ]);
    const turned = rankTypes(all, reading({ ratio: { least: 5.5, most: 5.6 } }));
    expect(turned.candidates[0]).toMatchObject({ typeId: 's11', points: 2 });
  });

  it('are all open where nothing was read', () => {
    expect(rankTypes(all, nothingRead)).toMatchObject({ candidates: [], ruledOut: [], open: { length: 3 } });
  });
});

/** Any types over few words, so that they share some. */
const anyType = fc
  .record({
    maker: fc.constantFrom('Brantock', 'Dunmarrow', 'Pellow'),
    stamp: fc.constantFrom('AB *', 'A? 12', 'CD*', '12 34'),
    casting: fc.constantFrom('48 B 6', '48 B 9', '61-019'),
    studs: fc.constantFrom('8', '10', '12'),
    weight: fc.constantFrom('hint' as const, 'good' as const, 'decisive' as const),
    isRound: fc.boolean(),
    prefix: fc.constantFrom('AB', 'CD'),
    first: fc.integer({ min: 1, max: 5000 }),
    length: fc.integer({ min: 10, max: 4000 }),
    driver: fc.integer({ min: 4, max: 12 }),
    driven: fc.integer({ min: 25, max: 50 }),
  })
  .map((made) => ({
    made,
    type: {
      id: '',
      name: '',
      maker: made.maker,
      signs: [
        sign({ pattern: made.stamp, weight: made.weight }),
        sign({ kind: 'casting', pattern: made.casting }),
        sign({ kind: 'count', position: 'studs', pattern: made.studs, weight: made.weight }),
        ...(made.isRound ? [sign({ kind: 'feature', words: 'round nose', weight: made.weight })] : []),
      ],
      serials: [{ prefix: made.prefix, first: made.first, last: made.first + made.length }],
      gears: [{ gear: '', meshes: [{ driver: made.driver, driven: made.driven }] }],
    } satisfies KnownType,
  }));
const anyTypes = fc
  .array(anyType, { minLength: 1, maxLength: 6 })
  .map((types) =>
    types.map(({ made, type }, index) => ({ made, type: { ...type, id: `t${index}`, name: `Type ${index % 3}` } })),
  );

/** What can be truly read of a type, each a step that adds to what was read before. */
type Made = {
  studs: string;
  casting: string;
  stamp: string;
  prefix: string;
  first: number;
  maker: string;
  driver: number;
  driven: number;
  isRound: boolean;
};
const trueSteps: readonly ((made: Made, before: Reading) => Reading)[] = [
  (made, before) => ({ ...before, maker: made.maker.toUpperCase() }),
  (made, before) => ({ ...before, serial: `${made.prefix} ${made.first + 3}` }),
  (made, before) => ({ ...before, castings: [...before.castings, made.casting.replace('4', '?')] }),
  (made, before) => ({ ...before, castings: [...before.castings, made.casting] }),
  (made, before) => ({ ...before, marks: [...before.marks, made.stamp.replace('*', '77').replace('?', 'Q')] }),
  (made, before) => ({ ...before, counts: { ...before.counts, studs: Number(made.studs) } }),
  (made, before) => (made.isRound ? { ...before, features: { ...before.features, 'round nose': true } } : before),
  (made, before) => ({ ...before, ratio: { meshes: [{ driver: made.driver, driven: made.driven }] } }),
];

describe('whatever the types', () => {
  const pointsIn = (types: readonly KnownType[], read: Reading, id: string) => {
    const { candidates, open, ruledOut } = rankTypes(types, read);
    expect(ruledOut.map(({ typeId }) => typeId)).not.toContain(id);
    return [...candidates, ...open].find(({ typeId }) => typeId === id)?.points ?? Number.NaN;
  };

  it('a further true reading never takes points from the true type, and never rules it out', () => {
    const steps = fc.shuffledSubarray([...trueSteps], { minLength: 1 });
    fc.assert(
      fc.property(anyTypes, fc.nat(), steps, (made, pick, order) => {
        const truth = made[pick % made.length]!;
        const types = made.map(({ type }) => type);
        let read = nothingRead;
        let before = pointsIn(types, read, truth.type.id);
        for (const step of order) {
          read = step(truth.made, read);
          const after = pointsIn(types, read, truth.type.id);
          expect(after).toBeGreaterThanOrEqual(before);
          before = after;
        }
      }),
      { seed: 52 },
    );
  });

  it('their order in the books changes nothing', () => {
    fc.assert(
      fc.property(anyTypes, fc.nat(), (made, pick) => {
        const types = made.map(({ type }) => type);
        const read = trueSteps.reduce((before, step) => step(made[pick % made.length]!.made, before), nothingRead);
        expect(rankTypes(types.toReversed(), read)).toEqual(rankTypes(types, read));
      }),
      { seed: 53 },
    );
  });

  it('a type that a whole serial contradicts is no candidate, whatever else speaks for it', () => {
    fc.assert(
      fc.property(anyTypes, fc.nat(), (made, pick) => {
        const { made: facts, type } = made[pick % made.length]!;
        const whole = trueSteps.reduce((before, step) => step(facts, before), nothingRead);
        const read = { ...whole, serial: `${facts.prefix} ${facts.first + facts.length + 1}` };
        const ranking = rankTypes(
          made.map((each) => each.type),
          read,
        );
        expect(ranking.ruledOut.map(({ typeId }) => typeId)).toContain(type.id);
        expect(ranking.candidates.map(({ typeId }) => typeId)).not.toContain(type.id);
      }),
      { seed: 54 },
    );
  });
});
