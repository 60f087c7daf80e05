/** The states that cover can be in, from most ink to none: the order of comfort, and the order of the bar. */
export const COVERAGE_STATES = ['fitted', 'reused', 'picked', 'free', 'coming', 'core', 'unseen', 'lacking'] as const;

export type CoverageState = (typeof COVERAGE_STATES)[number];

export const COVERAGE_WORDS: Readonly<Record<CoverageState, string>> = {
  fitted: 'fitted',
  reused: 're-used',
  picked: 'picked',
  free: 'free in stores',
  coming: 'coming',
  core: 'from a core',
  unseen: 'not yet looked at',
  lacking: 'lacking',
};

export interface CoverageShare {
  readonly state: CoverageState;
  /** How much of the need is in this state, as an exact decimal. */
  readonly quantity: string;
}

/** The bar in words, for those who hear it: "3 fitted, 1 picked". */
export function coverageInWords(shares: readonly CoverageShare[]): string {
  return sortShares(shares)
    .map((share) => `${share.quantity} ${COVERAGE_WORDS[share.state]}`)
    .join(', ');
}

/** Shares in the order of comfort, without those that are nil. */
export function sortShares(shares: readonly CoverageShare[]): readonly CoverageShare[] {
  return shares
    .filter((share) => Number(share.quantity) > 0)
    .toSorted((one, other) => COVERAGE_STATES.indexOf(one.state) - COVERAGE_STATES.indexOf(other.state));
}
