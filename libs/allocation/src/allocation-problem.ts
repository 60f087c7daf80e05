/** What there is, what is wanted, and what may serve what. */

export interface Supply {
  readonly id: string;
  /** in whole smallest units: of a part that is counted in ten-thousandths, ten-thousandths */
  readonly quantity: number;
}

export interface Demand {
  readonly id: string;
  /** demands of a lower level are served first; those of one level are equal, and none takes from a lower one */
  readonly level: number;
  readonly quantity: number;
}

/**
 * Whole figures of nought or more, the weightiest first: either all of them, as many in every link, or by its place each that is not nought,
 * the weightiest at the lowest place.
 */
export type Cost = readonly number[] | ReadonlyMap<number, number>;

/** A supply that may serve a demand. */
export interface Link {
  readonly supplyId: string;
  readonly demandId: string;
  /** of one smallest unit */
  readonly cost: Cost;
}

export interface AllocationProblem {
  readonly supplies: readonly Supply[];
  readonly demands: readonly Demand[];
  readonly links: readonly Link[];
}

/** By code unit, the same everywhere; not as a person would sort. */
export function compareIds(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}
