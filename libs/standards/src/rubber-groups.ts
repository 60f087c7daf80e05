/** Storage groups of ISO 2230: how long rubber keeps in its packet, and how much longer after it was inspected. */
export type StorageGroup = 'A' | 'B' | 'C';

export interface StoragePeriods {
  /** Years from packing. */
  readonly firstYears: number;
  /** Further years, counted from the end of the first period, once inspected and found good. */
  readonly extensionYears: number;
}

/**
 * Source: ISO 2230 as suppliers' data sheets restate it; the standard itself was not at hand. Storage as the standard asks
 * (cool, dark, dry, in its packet) is presumed by these periods.
 */
export const storagePeriods: Readonly<Record<StorageGroup, StoragePeriods>> = {
  A: { firstYears: 5, extensionYears: 2 },
  B: { firstYears: 7, extensionYears: 3 },
  C: { firstYears: 10, extensionYears: 5 },
};

/** Counted for rubber of which nobody knows the kind. */
export const shortestGroup: StorageGroup = 'A';

export interface RubberKind {
  readonly name: string;
  /** null: no group is given for it, so it is counted as the shortest. */
  readonly group: StorageGroup | null;
}

/**
 * Kinds of rubber by their symbol in ISO 1629 (AU and EU are polyurethanes). Sources conflict on SBR, which one supplier keeps for
 * 15 years, and SAE ARP5316 differs from ISO 2230 for nearly all of them, most of all for IIR; the groups here are those of ISO 2230.
 */
const kinds: Readonly<Record<string, RubberKind>> = {
  NR: { name: 'natural rubber', group: 'A' },
  IR: { name: 'isoprene', group: 'A' },
  BR: { name: 'butadiene', group: 'A' },
  SBR: { name: 'styrene butadiene', group: 'A' },
  AU: { name: 'polyester urethane', group: 'A' },
  EU: { name: 'polyether urethane', group: 'A' },
  NBR: { name: 'nitrile', group: 'B' },
  XNBR: { name: 'carboxylated nitrile', group: 'B' },
  HNBR: { name: 'hydrogenated nitrile', group: 'B' },
  CR: { name: 'chloroprene', group: 'B' },
  IIR: { name: 'butyl', group: 'B' },
  BIIR: { name: 'bromobutyl', group: 'B' },
  CIIR: { name: 'chlorobutyl', group: 'B' },
  ACM: { name: 'polyacrylate', group: 'B' },
  ECO: { name: 'epichlorohydrin', group: 'B' },
  CSM: { name: 'chlorosulphonated polyethylene', group: 'C' },
  CM: { name: 'chlorinated polyethylene', group: 'C' },
  EPM: { name: 'ethylene propylene', group: 'C' },
  EPDM: { name: 'ethylene propylene diene', group: 'C' },
  FKM: { name: 'fluorocarbon', group: 'C' },
  FFKM: { name: 'perfluorocarbon', group: 'C' },
  VMQ: { name: 'silicone', group: 'C' },
  FVMQ: { name: 'fluorosilicone', group: 'C' },
  AEM: { name: 'ethylene acrylic', group: null },
  FEPM: { name: 'tetrafluoroethylene propylene', group: null },
};

/** Symbols that have a kind here, for lists to choose from. */
export const polymers: readonly string[] = Object.keys(kinds);

/** The kind of rubber that a symbol such as "NBR" stands for, however it is cased; null when it is none of these. */
export function rubberKind(polymer: string): RubberKind | null {
  const symbol = polymer.trim().toUpperCase();
  return Object.hasOwn(kinds, symbol) ? (kinds[symbol] ?? null) : null;
}
