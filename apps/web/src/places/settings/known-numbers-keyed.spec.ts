import { noGear, noRange, numbersFrom, numbersOf, readMeshes, sayTeeth } from './known-numbers-keyed.js';

describe('serial numbers and teeth as they are keyed', () => {
  it('come back as they were kept', () => {
    const kept = {
      serials: [{ prefix: 'WD7', first: 1, last: 6990 }],
      gears: [
        {
          gear: 'first',
          meshes: [
            { driver: 18, driven: 32 },
            { driver: 13, driven: 37 },
          ],
        },
      ],
    };
    expect(numbersOf(numbersFrom(kept))).toEqual(kept);
  });

  it('leave out what was left empty', () => {
    expect(numbersOf({ serials: [noRange], gears: [noGear] })).toEqual({ serials: [], gears: [] });
  });

  it.each(['4', '4/', '4/0', '0/31', 'four/31', '4/31,5/6', '1/2 1/2 1/2 1/2 1/2', '1001/4', ''])(
    'do not read %j as teeth',
    (teeth) => {
      expect(readMeshes(teeth)).toBeNull();
      expect(numbersOf({ serials: [], gears: [{ gear: 'top', teeth }] })).toBeNull();
    },
  );

  it('are not sent while a range runs backward or is no number', () => {
    for (const range of [
      { first: '9', last: '1' },
      { first: 'WD7 1', last: '2' },
      { first: '', last: '3' },
    ])
      expect(numbersOf({ serials: [{ prefix: '', ...range }], gears: [] })).toBeNull();
  });

  it('say what the teeth come to', () => {
    expect(sayTeeth(' 4/31 ')).toBe('7.75 : 1');
  });
});
