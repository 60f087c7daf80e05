import { cellsByName, isTable, readPasted, rowsOf } from './pasted-rows.js';

const taken = (text: string, kind: 'unit' | 'lot' | 'unsorted' = 'lot') => {
  const table = readPasted(text);
  return rowsOf(table, cellsByName(table), kind);
};

describe('rows pasted from a spreadsheet', () => {
  it('are known from what belongs into one cell', () => {
    expect(isTable('48-2230')).toBe(false);
    expect(isTable('48-2230\r\n')).toBe(false);
    expect(isTable('48-2230\t6')).toBe(true);
    expect(isTable('48-2230\r\n48-2279')).toBe(true);
  });

  it('go into the cells that their first row names, whatever its writing', () => {
    const { rows, faults } = taken('Part No.\tQty\tPacket date\tWhere\r\n48-2230\t6\t3/94\tR4 B08\r\n48-2279\t2,5\t\t\r\n');
    expect(faults).toEqual([]);
    expect(rows).toMatchObject([
      { kind: 'lot', referenceText: '48-2230', referenceId: null, count: '6', packetDate: '3/94', placeText: 'R4 B08' },
      { kind: 'lot', referenceText: '48-2279', count: '2.5', packetDate: '' },
    ]);
  });

  it('have no names where the first row has none: a person says which column is which', () => {
    const table = readPasted('48-2230\t6\n48-2279\t12');
    expect(table).toMatchObject({ head: null, columnCount: 2 });
    expect(cellsByName(table)).toEqual([null, null]);
    expect(rowsOf(table, ['reference', 'count'], 'lot').rows.map((row) => row.count)).toEqual(['6', '12']);
  });

  it('keep a line break within a cell, an inch mark, and one that is never closed', () => {
    expect(taken('number\tdescription\n48-1\t"two\nlines"\n48-2\t3/4" stud').rows.map((row) => row.words)).toEqual([
      'two lines',
      '3/4" stud',
    ]);
    expect(taken('number\tdescription\n48-3\t"half a mark').rows).toMatchObject([
      { referenceText: '48-3', words: '"half a mark' },
    ]);
  });

  it('may be of several kinds', () => {
    const { rows, faults } = taken('kind\twhat it is\tgrade\nU\tworm axle\tc\nbox\tgears\t\nthing\tgears\t\nunsorted\tbolts\tB');
    expect(rows).toMatchObject([
      { kind: 'unit', words: 'worm axle', grade: 'C' },
      { kind: 'unsorted', words: 'gears' },
    ]);
    expect(faults).toEqual([
      { line: 3, words: '“thing” is no kind. Write unit, lot or unsorted.' },
      { line: 4, words: '“B” has no cell: a row for something unsorted has no grade, state.' },
    ]);
  });

  it.each([
    ['number\tcount\n1.20E+04\t1', /shortened this number/],
    ['number\tcount\nMar-94\t1', /turned into a date/],
    ['number\tcount\n#REF!\t1', /its own error/],
    ['number\tcount\n48-2230\t1.200,5', /comma/],
    ['number\tcount\n48-2230\tsix', /not a number/],
    ['number\tmake\n48-2230\tgood', /not one of: genuine/],
    [`number\tnote\n48-2230\t${'x'.repeat(201)}`, /201 characters/],
  ])('are not taken where a spreadsheet or a slip has spoilt them: %j', (text, words) => {
    const { rows, faults } = taken(text);
    expect(rows).toEqual([]);
    expect(faults).toEqual([{ line: 1, words: expect.stringMatching(words) }]);
  });

  it('keep a date in the column of dates as it was read', () => {
    expect(taken('number\tpacket date\n48-2230\tMar-94').rows).toMatchObject([{ packetDate: 'Mar-94' }]);
  });

  it('are nothing where nothing was copied', () => {
    expect(readPasted(' \t\r\n\t')).toEqual({ head: null, rows: [], columnCount: 0 });
  });
});
