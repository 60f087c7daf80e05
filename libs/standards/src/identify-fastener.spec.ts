import { type FastenerMeasured, identifyFastener } from './identify-fastener.js';

function identify(over: Partial<FastenerMeasured>) {
  return identifyFastener({
    outside: '7.9',
    outsideUnit: 'mm',
    pitch: '18',
    pitchKind: 'tpi',
    state: 'new',
    tolerance: '',
    flankAngle: null,
    ...over,
  });
}

function answerOf(over: Partial<FastenerMeasured>) {
  const result = identify(over);
  if (!result.ok) throw new Error(result.error.sentence);
  return result.value;
}

const namesOf = (over: Partial<FastenerMeasured>) => answerOf(over).candidates.map((each) => each.thread.name);

describe('a fastener by measurement', () => {
  it('says that BSW and UNC are a tie, and how to tell them apart', () => {
    const { candidates } = answerOf({});
    expect(candidates.map((each) => each.thread.name)).toEqual(['5/16 in BSW', '5/16 in UNC']);
    expect(candidates.map((each) => each.isCertain)).toEqual([false, false]);
    expect(candidates[0]?.reasons[2]).toBe(
      'A tie with 5/16 in UNC: diameter and pitch do not tell them apart. This one has rounded crests and roots at 55 degrees, that one flat crests at 60 degrees.',
    );
  });

  it('is certain where nothing else shares diameter and pitch', () => {
    expect(answerOf({ outside: '1/4', outsideUnit: 'in', pitch: '26' }).candidates).toMatchObject([
      { thread: { name: '1/4 in BSF' }, isCertain: true, tiedWith: [] },
    ]);
  });

  it('puts the nearer first where two fit', () => {
    expect(namesOf({ outside: '4.7', pitch: '0.81', pitchKind: 'mm' })[0]).toBe('2 BA');
    const { candidates } = answerOf({ outside: '4.8', pitch: '32' });
    expect(candidates[0]).toMatchObject({ thread: { name: 'No. 10 UNF' }, isCertain: false });
    expect(candidates.length).toBeGreaterThan(1);
  });

  it('takes a worn screw further under its size, a plated one further over', () => {
    const worn = { outside: '9.45', pitch: '1.5', pitchKind: 'mm' } as const;
    expect(namesOf({ ...worn, state: 'new' })).toEqual([]);
    expect(namesOf({ ...worn, state: 'worn' })).toContain('M10 x 1.5');
    const plated = { outside: '10.18', pitch: '1.5', pitchKind: 'mm' } as const;
    expect(namesOf({ ...plated, state: 'new' })).toEqual([]);
    expect(namesOf({ ...plated, state: 'plated' })).toEqual(['M10 x 1.5']);
  });

  it('tells a tie apart by the flanks where their angle is known, and says so', () => {
    const { candidates } = answerOf({ flankAngle: 55 });
    expect(candidates).toMatchObject([{ thread: { name: '5/16 in BSW' }, isCertain: true, tiedWith: [] }]);
    expect(candidates[0]?.reasons.at(-1)).toBe(
      'By its figures 5/16 in UNC would fit as well: the flanks at 55 degrees, not 60, tell them apart.',
    );
    expect(namesOf({ flankAngle: 60 })).toEqual(['5/16 in UNC']);
    expect(answerOf({ flankAngle: 47.5 })).toEqual({
      candidates: [],
      questions: ['Nothing with flanks at 47.5 degrees fits. Are they at 55? Then it would be 5/16 in BSW.'],
    });
  });

  it('takes a tolerance of the outside in its own unit', () => {
    expect(namesOf({ outside: '8.15', tolerance: '0.1', flankAngle: 55 })).toEqual([]);
    expect(namesOf({ outside: '8.15', tolerance: '0.25', flankAngle: 55 })).toEqual(['5/16 in BSW']);
    expect(namesOf({ outside: '0.321', outsideUnit: 'in', tolerance: '0.01', flankAngle: 55 })).toEqual(['5/16 in BSW']);
    expect(identify({ tolerance: 'much' })).toMatchObject({ ok: false, error: { code: 'not-a-measure' } });
  });

  it('is certain of nothing when the pitch is not known', () => {
    const { candidates } = answerOf({ outside: '12.7', pitch: '' });
    expect(candidates.length).toBeGreaterThan(3);
    expect(candidates.filter((each) => each.isCertain)).toEqual([]);
  });

  it('asks when the figures fit in the other unit', () => {
    expect(answerOf({ outside: '0.3125', outsideUnit: 'mm' })).toEqual({
      candidates: [],
      questions: ['Nothing fits as keyed. Is the outside 0.3125 inches? Then it would be 5/16 in BSW.'],
    });
    expect(answerOf({ outside: '8', pitch: '1.25', pitchKind: 'tpi' }).questions).toEqual([
      'Nothing fits as keyed. Is the pitch 1.25 millimetres? Then it would be M8 x 1.25.',
    ]);
  });

  it.each([
    ['5/16', 'mm', 'fraction-in-mm'],
    ['5/0', 'in', 'not-a-measure'],
    ['', 'mm', 'not-a-measure'],
    ['7,9', 'mm', 'not-a-measure'],
    ['1e3', 'mm', 'not-a-measure'],
    ['0', 'mm', 'not-a-measure'],
    ['900', 'in', 'out-of-range'],
  ] as const)('refuses %j in %s: %s', (outside, outsideUnit, code) => {
    expect(identify({ outside, outsideUnit })).toMatchObject({ ok: false, error: { code } });
  });
});
