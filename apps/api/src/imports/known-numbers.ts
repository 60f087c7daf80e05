import type { UnitOfMeasure } from '@corewright/contracts/base';
import { partNumberKey } from '../catalogue/part-number-key.js';
import type { Reader } from '../platform/database/database.js';

export interface KnownPart {
  id: string;
  name: string;
  description: string;
  nicknames: string;
  unit: UnitOfMeasure;
  material: string;
  polymer: string;
}

/** A number by which a part is known, and the part. */
export interface KnownNumber {
  part: KnownPart;
  makerId: string;
  number: string;
  isMain: boolean;
  yearFirst: number | null;
  yearLast: number | null;
}

type NumberRow = Omit<KnownNumber, 'part'> & { partId: string; key: string } & Record<string, unknown>;

// Each reads one table, so that however the database plans it a batch costs one reading of that table at the most.
const selectNumbers = `
  SELECT part_id AS "partId", maker_id AS "makerId", number, number_key AS key, is_main AS "isMain",
         year_first AS "yearFirst", year_last AS "yearLast"
    FROM part_numbers WHERE number_key = ANY ($1::text[]) ORDER BY number`;
const selectParts = `
  SELECT id, name, description, nicknames, unit_of_measure AS unit, material, polymer FROM parts WHERE id = ANY ($1::uuid[])`;
const selectMains = `
  SELECT part_id AS "partId", maker_id AS "makerId", number FROM part_numbers WHERE is_main AND part_id = ANY ($1::uuid[])`;

/** Leading zeros that a spreadsheet may have taken from a number that is figures only. */
const zerosMax = 3;

/** Part numbers that rows name, looked up for a batch of rows in one go. */
export class KnownNumbers {
  private byKey = new Map<string, KnownNumber[]>();
  private readonly mains = new Map<string, { number: string; makerId: string }>();

  constructor(private readonly reader: Reader) {}

  /** Looks up what these numbers are, whoever's they are, and forgets what was looked up before. */
  async lookUp(numbers: Iterable<string>): Promise<void> {
    this.byKey.clear();
    this.mains.clear();
    await this.find([...numbers].flatMap(keysAround));
  }

  /** The numbers of a maker that are the same but for how they are spaced. */
  async of(makerId: string, number: string): Promise<KnownNumber[]> {
    const key = partNumberKey(number);
    if (!this.byKey.has(key)) await this.find(keysAround(number));
    return this.withKey(makerId, key);
  }

  /** What a number that is figures only may have been before a spreadsheet took its leading zeros. Only of what was looked up. */
  withZeros(makerId: string, number: string): KnownNumber[] {
    return keysAround(number)
      .slice(1)
      .flatMap((key) => this.withKey(makerId, key));
  }

  /** The parts of all numbers that were looked up. */
  get partIds(): string[] {
    return [...this.mains.keys()];
  }

  /** The main number of a part that one of the numbers looked up is of. */
  mainOf(partId: string): { number: string; makerId: string } | null {
    return this.mains.get(partId) ?? null;
  }

  add(known: KnownNumber): void {
    const key = partNumberKey(known.number);
    this.byKey.set(key, [...(this.byKey.get(key) ?? []), known]);
    if (known.isMain) this.mains.set(known.part.id, known);
  }

  private withKey(makerId: string, key: string): KnownNumber[] {
    return (this.byKey.get(key) ?? []).filter((known) => known.makerId === makerId);
  }

  private async find(keys: Iterable<string>): Promise<void> {
    const asked = [...new Set(keys)].filter((key) => !this.byKey.has(key));
    for (const key of asked) this.byKey.set(key, []);
    if (asked.length === 0) return;
    const rows = await this.reader.rows<NumberRow>(selectNumbers, [asked]);
    if (rows.length === 0) return;
    const partIds = [[...new Set(rows.map((row) => row.partId))]];
    const [parts, mains] = await Promise.all([
      this.reader.rows<KnownPart & Record<string, unknown>>(selectParts, partIds),
      this.reader.rows<{ partId: string; number: string; makerId: string }>(selectMains, partIds),
    ]);
    for (const { partId, number, makerId } of mains) this.mains.set(partId, { number, makerId });
    const byId = new Map(parts.map((part) => [part.id, part]));
    for (const { partId, key, ...facts } of rows) {
      const part = byId.get(partId);
      if (part) this.byKey.get(key)?.push({ part, ...facts });
    }
  }
}

/** How a number is found, and then how it would be with the zeros that it may have lost. */
function keysAround(number: string): string[] {
  const key = partNumberKey(number);
  if (!/^[1-9]\d*$/.test(number)) return [key];
  return [key, ...Array.from({ length: zerosMax }, (_, index) => '0'.repeat(index + 1) + key)];
}
