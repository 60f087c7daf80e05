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

/** A supply that may serve a demand. */
export interface Link {
  readonly supplyId: string;
  readonly demandId: string;
  /** of one smallest unit: whole figures of nought or more, the weightiest first, as many in every link */
  readonly cost: readonly number[];
}

export interface AllocationProblem {
  readonly supplies: readonly Supply[];
  readonly demands: readonly Demand[];
  readonly links: readonly Link[];
}
