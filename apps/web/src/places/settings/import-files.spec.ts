import { importFiles } from '@corewright/contracts/imports';
import { importNameOf, sortFiles } from './import-files.js';

describe('files brought in', () => {
  it('are known by their names, however these are written', () => {
    expect(importNameOf('Part Numbers.csv')).toBe('part-numbers');
    expect(importNameOf('part_numbers.CSV')).toBe('part-numbers');
    for (const name of importFiles) expect(importNameOf(`${name}.csv`)).toBe(name);
  });
  it('are named back when no name fits, or when one comes twice', () => {
    const files = ['lots.csv', 'Lots.txt', 'stocktake 2019.csv'].map((name) => new File(['a'], name));
    const sorted = sortFiles(files);
    expect([...sorted.known.keys()]).toEqual(['lots']);
    expect(sorted.twice).toEqual(['Lots.txt']);
    expect(sorted.unknown).toEqual(['stocktake 2019.csv']);
  });
});
