import { rowsOf, shelvesOf } from './shelves.js';

const named = (...names: string[]) => names.map((name) => ({ name }));
const read = (...names: string[]) =>
  shelvesOf(named(...names)).map(({ name, places }) => [name, places.map((place) => place.name)]);

describe('the shelves of a rack', () => {
  it('are read from what its bins are called', () => {
    expect(read('Bin 1-1', 'Bin 1-2', 'Bin 2-1')).toEqual([
      ['Shelf 1', ['Bin 1-1', 'Bin 1-2']],
      ['Shelf 2', ['Bin 2-1']],
    ]);
    expect(read('A1', 'A2', 'b1').map(([name]) => name)).toEqual(['Shelf A', 'Shelf B']);
    expect(read('Shelf 1', 'Shelf 2')).toEqual([
      ['Shelf 1', ['Shelf 1']],
      ['Shelf 2', ['Shelf 2']],
    ]);
  });
  it('are one where the names say nothing of shelves, or not all of them do', () => {
    expect(read('Bin 01', 'Bin 02', 'Bin 10')).toEqual([['', ['Bin 01', 'Bin 02', 'Bin 10']]]);
    expect(read('A1', 'B1', 'Floor')).toEqual([['', ['A1', 'B1', 'Floor']]]);
    expect(read('A1', 'A2')).toEqual([['', ['A1', 'A2']]]);
    expect(read()).toEqual([]);
  });
});

describe('rows', () => {
  it('hold so many, the last what is left', () => {
    expect(rowsOf([1, 2, 3, 4, 5], 2)).toEqual([[1, 2], [3, 4], [5]]);
    expect(rowsOf([1, 2], 0)).toEqual([[1], [2]]);
    expect(rowsOf([], 3)).toEqual([]);
  });
});
