/** A workshop made up for measuring what goes where: far more lots than anybody wants, and many jobs that want the same few. The same seed makes the same one. */

export interface GeneratedSize {
  readonly jobs: number;
  readonly linesPerJob: number;
  readonly parts: number;
  readonly lots: number;
  readonly relations: number;
  readonly unitTypes: number;
}

/** That `serves` may go where `part` is asked for; of a higher kind there is more against it. */
export interface GeneratedRelation {
  readonly part: number;
  readonly serves: number;
  readonly kind: number;
}

export interface GeneratedLot {
  readonly id: string;
  readonly number: number;
  readonly part: number;
  readonly quantity: number;
  /** 0 is the source that is preferred */
  readonly source: number;
  readonly grade: number;
  readonly ageDays: number;
  readonly isDated: boolean;
}

export interface GeneratedLine {
  readonly id: string;
  readonly part: number;
  readonly quantity: number;
  readonly isCritical: boolean;
  /** what it refuses: a worse grade, an older lot, a source further down */
  readonly leastGrade: number;
  readonly oldestDays: number;
  readonly lastSource: number;
}

export interface GeneratedWorkshop {
  readonly relations: readonly GeneratedRelation[];
  readonly lots: readonly GeneratedLot[];
  /** the jobs in the order in which they are served */
  readonly jobs: readonly (readonly GeneratedLine[])[];
}

const grades = 4;
const sources = 4;
const kinds = 4;
const linesPerType = 100;
/** of a type's lines, those of parts that other types want too */
const commonPerType = 45;
const commonParts = 120;
/** Of all lots, those that were bought because they are wanted. */
const shareOfWanted = 0.05;

export function generateWorkshop(size: GeneratedSize, seed: number): GeneratedWorkshop {
  const dice = new Dice(seed);
  const families = familiesOf(size, dice);
  const types = typesOf(size, families, dice);
  return {
    relations: relationsOf(size, families, dice),
    lots: lotsOf(size, types, families, dice),
    jobs: Array.from({ length: size.jobs }, (_, job) => linesOf(job, size, types[dice.early(types.length)]!, dice)),
  };
}

/** Parts that took one another's place over the years stand beside each other; most stand alone. @returns the first part of each part's family */
function familiesOf({ parts }: GeneratedSize, dice: Dice): number[] {
  const first: number[] = [];
  while (first.length < parts) {
    const from = first.length;
    const members = dice.isSo(0.5) ? 1 : 2 + dice.early(8);
    for (let member = 0; member < members && first.length < parts; member += 1) first.push(from);
  }
  return first;
}

function relationsOf({ parts, relations }: GeneratedSize, families: readonly number[], dice: Dice): GeneratedRelation[] {
  const related: GeneratedRelation[] = [];
  for (let part = 1; part < parts; part += 1)
    if (families[part] === families[part - 1]) related.push({ part: part - 1, serves: part, kind: 1 });
  while (related.length < relations) {
    const part = dice.below(parts);
    // one in fifty goes to a part of another family
    const near = families[part]! + dice.below(6);
    const serves = dice.isSo(0.02) ? dice.below(parts) : near;
    if (serves !== part && serves < parts && (families[serves] === families[part] || serves !== near))
      related.push({ part, serves, kind: 1 + dice.below(kinds - 1) });
  }
  return related.slice(0, relations);
}

/** Types came one after another, and ask for what took the place of older ones' parts, or still for those. @returns the parts that each type asks for */
function typesOf({ parts, unitTypes }: GeneratedSize, families: readonly number[], dice: Dice): number[][] {
  const common = Array.from({ length: commonParts }, () => dice.below(parts));
  const asked: number[] = [...common];
  return Array.from({ length: unitTypes }, () => {
    const wanted = new Set<number>();
    while (wanted.size < commonPerType) wanted.add(common[dice.early(commonParts)]!);
    while (wanted.size < linesPerType)
      wanted.add(dice.isSo(0.3) ? nearTo(asked[dice.below(asked.length)]!, families, dice) : dice.below(parts));
    asked.push(...wanted);
    return [...wanted];
  });
}

/** A part of the same family, a few further on; or the part itself. */
function nearTo(part: number, families: readonly number[], dice: Dice): number {
  const near = part + dice.below(3);
  return families[near] === families[part] ? near : part;
}

function lotsOf(
  { parts, lots }: GeneratedSize,
  types: readonly number[][],
  families: readonly number[],
  dice: Dice,
): GeneratedLot[] {
  const wanted = types.flat();
  return Array.from({ length: lots }, (_, number) => {
    const bought = nearTo(wanted[dice.below(wanted.length)]!, families, dice);
    return {
      id: idOf('lot', number),
      number,
      part: dice.isSo(shareOfWanted) ? bought : dice.below(parts),
      quantity: dice.isSo(0.5) ? 1 : 1 + dice.early(20),
      source: dice.early(sources),
      grade: dice.early(grades),
      ageDays: dice.below(9000),
      isDated: dice.isSo(0.8),
    };
  });
}

function linesOf(job: number, { linesPerJob }: GeneratedSize, type: readonly number[], dice: Dice): GeneratedLine[] {
  const start = dice.below(type.length);
  return Array.from({ length: linesPerJob }, (_, line) => ({
    id: idOf('line', job * 1000 + line),
    part: type[(start + line * 7) % type.length]!,
    quantity: dice.isSo(0.8) ? 1 : 2 + dice.early(7),
    isCritical: dice.isSo(0.1),
    leastGrade: grades - 1 - dice.early(grades),
    oldestDays: dice.isSo(0.4) ? 3650 : 9000,
    lastSource: dice.isSo(0.4) ? 1 : sources - 1,
  }));
}

/** An id as the server gives them, with no order among those that follow one another. */
function idOf(kind: 'lot' | 'line', number: number): string {
  const spread = (Math.imul(number + 1, 0x9e3779b1) >>> 0).toString(16).padStart(8, '0');
  return `${spread}-0000-7000-8000-${kind === 'lot' ? '1' : '2'}${number.toString(16).padStart(11, '0')}`;
}

/** Chance that can be thrown again (xorshift: Marsaglia 2003). */
export class Dice {
  private state: number;

  constructor(seed: number) {
    this.state = Math.imul(seed, 0x9e3779b1) | 0 || 1;
  }

  /** from nought up to, not with, 1 */
  share(): number {
    this.state ^= this.state << 13;
    this.state ^= this.state >>> 17;
    this.state ^= this.state << 5;
    return (this.state >>> 0) / 2 ** 32;
  }

  below(end: number): number {
    return Math.floor(this.share() * end);
  }

  /** the lower ones more often */
  early(end: number): number {
    return Math.floor(this.share() ** 2 * end);
  }

  isSo(share: number): boolean {
    return this.share() < share;
  }
}
