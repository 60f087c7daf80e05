import type { SuffixRow } from '@corewright/bearings/bearing-types';
import { readDesignation, tableName } from '@corewright/bearings/read-designation';

/** The letters before the first figures of a number, and these: 6205-2RS is 6205, NU 310 E is NU310. As the database reckons it. */
export function frontOf(number: string): string | null {
  const [, letters, figures] = /^[^A-Z0-9]*([A-Z]*)[^A-Z0-9]*([0-9]+)/.exec(upper(number)) ?? [];
  return figures === undefined ? null : `${letters ?? ''}${figures}`;
}

/** Capitals of a to z alone: the database may know no other letters. */
function upper(text: string): string {
  return text.replace(/[a-z]+/g, (letters) => letters.toUpperCase());
}

/**
 * With what the numbers of a bearing begin, whoever made it. Thin series have an older short form as well, and others an old number of
 * three figures; where the caps are written without a hyphen, as in 62052RS, their figure 2 belongs to the front.
 */
export function frontsOf(designation: string): string[] {
  const front = frontOf(designation);
  const short = designation
    .match(/^61([789])(?:(\d\d)|\/(\d))$/)
    ?.slice(1)
    .join('');
  const old = designation.match(/^6([234]\d\d)$/)?.[1];
  const fronts = [front, short === undefined ? null : `6${short}`, old ?? null].filter((each) => each !== null);
  return fronts.flatMap((each) => [each, `${each}2`]);
}

/** So many readings are kept; then it begins anew. */
const readingsMax = 50_000;

/** The names under which the table has what numbers name, read once for each number as long as the makers' suffixes stay the same. */
export class TableNames {
  private readWith = '';
  private readonly names = new Map<string, string | null>();

  by(suffixes: readonly SuffixRow[]): (number: string) => string | null {
    const readWith = JSON.stringify(suffixes);
    if (readWith !== this.readWith || this.names.size > readingsMax) this.names.clear();
    this.readWith = readWith;
    return (number) => {
      const known = this.names.get(number);
      if (known !== undefined) return known;
      const name = tableName(readDesignation(number, suffixes));
      this.names.set(number, name);
      return name;
    };
  }
}
