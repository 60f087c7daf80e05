import { keyedFromMarks, nothingKeyed, readingOf } from './reading-keyed.js';

describe('what is keyed of a unit', () => {
  it('begins with the marks that are in the books: its own first, castings never', () => {
    expect(keyedFromMarks('WD7 33?6 · 48 B 6')).toEqual({ ...nothingKeyed, serial: 'WD7 33?6', marks: '48 B 6' });
    expect(keyedFromMarks('cast 61-019; 4G 2?16')).toEqual({ ...nothingKeyed, serial: '4G 2?16', marks: 'cast 61-019' });
    expect(keyedFromMarks('cast 61-0?9 · lid lost')).toEqual({ ...nothingKeyed, marks: 'cast 61-0?9 · lid lost' });
    expect(keyedFromMarks('')).toEqual(nothingKeyed);
  });

  it('is read as far as it goes, and what is half keyed is left out', () => {
    const keyed = { ...nothingKeyed, maker: ' Brantock ', castings: '48 B 6, 48 B 9', counts: { studs: '12', bolts: 'x' } };
    expect(readingOf({ ...keyed, driver: '7', driven: '' })).toMatchObject({
      maker: 'Brantock',
      castings: ['48 B 6', '48 B 9'],
      counts: { studs: 12 },
      ratio: null,
    });
    expect(readingOf({ ...keyed, driver: '7', driven: '39', ratioLeast: '5', ratioMost: '6' }).ratio).toEqual({
      meshes: [{ driver: 7, driven: 39 }],
    });
    expect(readingOf({ ...keyed, ratioLeast: '5,5', ratioMost: '5.6' }).ratio).toEqual({ least: 5.5, most: 5.6 });
    expect(readingOf({ ...keyed, ratioLeast: '6', ratioMost: '5' }).ratio).toBeNull();
  });
});
