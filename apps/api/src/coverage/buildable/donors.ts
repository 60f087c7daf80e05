import type { Donor } from '@corewright/allocation/buildable';
import type { Coded, Named } from '@corewright/contracts/base';
import { enoughToSay, surelyGood } from '@corewright/yields/component-yield';
import type * as z from 'zod';
import { type Accepts, whyNotAccepted } from '../../catalogue/build-standards/accepts.js';
import { type CountsOfComponent, countsOfTypes } from '../../cores/yields/yield.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { type GivingComponent, givingComponents, wholeCores } from './buildable.queries.js';

/** More of one type than anybody breaks at once for one part. */
export const brokenMax = 12;

/** Cores of one type that can be broken, with the units, in the order in which they would be. */
export interface DonorOfType extends Donor {
  unitType: z.infer<typeof Named>;
  units: readonly z.infer<typeof Coded>[];
}

/** What comes off a core that nobody has opened: harvested, of an unknown make, and not graded. */
const asItComes = { source: 'harvested', make: 'unknown', condition: '', gradeRank: null } as const;

/** Why a build standard takes nothing of a core that nobody has opened; null where it does. */
export function whyNothingOfCores(standard: Accepts): string | null {
  return whyNotAccepted(asItComes, standard);
}

/** What cores in the yard surely give of these parts: of ours, whole, not stripped, on no job and promised to nobody. */
export async function donorsOf(reader: Reader, partIds: readonly string[], standard: Accepts): Promise<DonorOfType[]> {
  if (whyNothingOfCores(standard) !== null) return [];
  const giving = await givingComponents(reader, partIds);
  const typeIds = [...new Set(giving.map(({ typeId }) => typeId))];
  const [cores, counts] = await Promise.all([wholeCores(reader, typeIds, brokenMax), countsOfTypes(reader, typeIds)]);
  return typeIds.flatMap((typeId): DonorOfType[] => {
    const units = cores.filter((core) => core.typeId === typeId).map(({ unit }) => unit);
    const ofType = giving.filter((component) => component.typeId === typeId);
    const gives = givesOf(ofType, counts, units.length);
    return gives.length === 0 ? [] : [{ typeId, unitType: { id: typeId, name: ofType[0]?.typeName ?? '' }, units, gives }];
  });
}

/** By the part; a part that stands at several positions is given by each, each reckoned by itself. */
function givesOf(components: readonly GivingComponent[], counts: readonly CountsOfComponent[], cores: number): Donor['gives'] {
  const byPart = new Map<string, number[]>();
  for (const component of components) {
    const steps = stepsOf(component, counts, cores);
    const before = byPart.get(component.partId) ?? steps.map(() => 0);
    byPart.set(
      component.partId,
      before.map((pieces, index) => pieces + (steps[index] ?? 0)),
    );
  }
  return [...byPart].filter(([, steps]) => (steps.at(-1) ?? 0) > 0).map(([stockId, byCores]) => ({ stockId, byCores }));
}

/** Of a component of which too few were looked at nothing is claimed. */
function stepsOf({ typeId, position, eachHas }: GivingComponent, counts: readonly CountsOfComponent[], cores: number): number[] {
  const seen = counts.find((count) => count.typeId === typeId && count.position === position);
  return Array.from({ length: cores }, (_, index) =>
    seen === undefined || seen.looked < enoughToSay ? 0 : surelyGood(seen, index + 1, eachHas),
  );
}
