import { countsOfTypes } from '../cores/yields/yield.queries.js';
import type { Reader } from '../platform/database/database.js';
import { type GivingComponent, givingComponents, type WholeCore, wholeCores } from './buildable/buildable.queries.js';
import type { DonorFact } from './coverage-facts.js';

/** Of each type so many cores are thought of as donors: more are never broken for what jobs lack. */
const donorsPerTypeMax = 6;

/**
 * Whole cores that have one of these parts, with how often it was serviceable.
 * @param without cores that are left out, as if they were broken already
 */
export async function donorsOf(
  reader: Reader,
  partIds: readonly string[],
  without: readonly string[] = [],
): Promise<DonorFact[]> {
  const giving = await givingComponents(reader, partIds);
  const typeIds = typesOf(giving);
  if (typeIds.length === 0) return [];
  return factsOf(reader, giving, await wholeCores(reader, typeIds, donorsPerTypeMax, without));
}

/** What these very cores have of the parts. */
export async function donorFactsOf(
  reader: Reader,
  partIds: readonly string[],
  cores: readonly WholeCore[],
): Promise<DonorFact[]> {
  return factsOf(reader, await givingComponents(reader, partIds), cores);
}

async function factsOf(reader: Reader, giving: readonly GivingComponent[], cores: readonly WholeCore[]): Promise<DonorFact[]> {
  const counts = await countsOfTypes(reader, typesOf(giving));
  return cores.flatMap(({ typeId, unit }) =>
    giving
      .filter((component) => component.typeId === typeId)
      .map(({ typeName, position, partId, eachHas }) => {
        const seen = counts.find((count) => count.typeId === typeId && count.position === position);
        const { serviceable, looked } = seen ?? { serviceable: 0, looked: 0 };
        return { unitId: unit.id, code: unit.code, name: typeName, partId, position, eachHas, serviceable, looked };
      }),
  );
}

function typesOf(giving: readonly GivingComponent[]): string[] {
  return [...new Set(giving.map(({ typeId }) => typeId))];
}
