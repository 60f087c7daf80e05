import { type ImportFile, importFiles } from '@corewright/contracts/imports';

/** The files chosen by a person, by the names under which they are read; those that no name fits are named back. */
export type ChosenFiles = {
  readonly known: ReadonlyMap<ImportFile, File>;
  readonly unknown: readonly string[];
  readonly twice: readonly string[];
};

/** `Part Numbers.csv` and `part_numbers.CSV` are both `part-numbers`. */
export function importNameOf(fileName: string): ImportFile | null {
  const stem = fileName
    .toLowerCase()
    .replace(/\.(csv|txt)$/, '')
    .trim()
    .replace(/[\s_]+/g, '-');
  return importFiles.find((each) => each === stem) ?? null;
}

export function sortFiles(files: Iterable<File>): ChosenFiles {
  const known = new Map<ImportFile, File>();
  const unknown: string[] = [];
  const twice: string[] = [];
  for (const file of files) {
    const name = importNameOf(file.name);
    if (name === null) unknown.push(file.name);
    else if (known.has(name)) twice.push(file.name);
    else known.set(name, file);
  }
  return { known, unknown, twice };
}
