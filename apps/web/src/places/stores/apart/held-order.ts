import type { HeldThing } from '@corewright/contracts/goods-apart';

export type HeldOrder = 'age' | 'reason' | 'lifter' | 'day';

export interface HeldGroup {
  readonly title: string;
  readonly held: readonly HeldThing[];
}

const noDay = '9999-12-31';

/** What is held back in the order that was asked for: one list, or one for each reason or each person. Within each the longest held come first, as they arrive. */
export function heldGroups(held: readonly HeldThing[], order: HeldOrder): readonly HeldGroup[] {
  if (order === 'age') return [{ title: 'Held back', held }];
  const dayOf = (thing: HeldThing) => thing.heldBack.lookAgainOn ?? noDay;
  if (order === 'day') return [{ title: 'Held back', held: held.toSorted((one, other) => compare(dayOf(one), dayOf(other))) }];
  const titleOf = (thing: HeldThing) =>
    order === 'reason'
      ? thing.heldBack.reason
      : thing.keptForOwner
        ? 'Lifted when its keeping ends'
        : `Lifted by ${thing.heldBack.mayLiftWords}`;
  const groups = new Map<string, HeldThing[]>();
  for (const thing of held) groups.set(titleOf(thing), [...(groups.get(titleOf(thing)) ?? []), thing]);
  return [...groups]
    .map(([title, things]) => ({ title, held: things }))
    .toSorted((one, other) => compare(one.title, other.title));
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
