import type { Disposition, StripKind } from '@corewright/contracts/cores';
import { type Decimal, decimalFrom, notBelowZero, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';

/** A finding in whose place no other stands. */
export interface StandingFinding {
  id: string;
  position: number;
  name: string;
  kind: StripKind;
  quantity: Decimal;
  partId: string | null;
  finding: string;
  words: string;
  disposition: Disposition | null;
  lookedAt: boolean;
  stamped: string;
  thingId: string | null;
}

/** What the type expects at a position, or an extra thing that was found, with what has become of it so far. */
export interface ComponentState {
  position: number;
  name: string;
  quantity: Decimal;
  partId: string | null;
  mustBeLookedAt: boolean;
  usualFate: Disposition | null;
  keptSet: string;
  keepsThickness: boolean;
  isExtra: boolean;
  /** pieces that were taken off before this strip-down */
  takenBefore: Decimal;
  standing: readonly StandingFinding[];
}

/** How many of a component have no fate yet. */
export function undecidedOf(component: ComponentState): Decimal {
  return leftOf(component, component.standing);
}

/** How many of a component somebody must still look at. What was taken off before was in a hand. */
export function toLookAtOf(component: ComponentState): Decimal {
  if (!component.mustBeLookedAt) return zero;
  return leftOf(
    component,
    component.standing.filter((finding) => finding.lookedAt),
  );
}

function leftOf({ quantity, takenBefore }: ComponentState, counted: readonly StandingFinding[]): Decimal {
  const decided = sumDecimals([takenBefore, ...counted.map((finding) => finding.quantity)]);
  return notBelowZero(subtractDecimals(quantity, decided));
}

const goneBy: readonly (Disposition | null)[] = [null, 'to stores', 'replace', 'scrap'];
const keptBy: readonly (Disposition | null)[] = ['re-use here', 'left in place'];

/**
 * What a job may count on of a part of its own unit: what is used again or stays in it, and what is gone. What is sent out, held or to be reworked is
 * neither yet.
 */
export function seenOfPart(
  components: readonly ComponentState[],
  partId: string,
): { reused: Decimal; gone: Decimal; words: string } {
  const ofPart = components.filter((component) => component.partId === partId && !component.isExtra);
  const standing = ofPart.flatMap((component) => component.standing);
  const isWrong = (finding: StandingFinding) => finding.kind === 'wrong';
  const reused = standing.filter((finding) => keptBy.includes(finding.disposition) && !isWrong(finding));
  const gone = standing.filter((finding) => goneBy.includes(finding.disposition) || isWrong(finding));
  const words = [...reused, ...gone].map(({ finding, words: said }) => [finding, said].filter((each) => each !== '').join(', '));
  return {
    reused: sumDecimals(reused.map(({ quantity }) => quantity)),
    gone: sumDecimals(gone.map(({ quantity }) => quantity)),
    words: [...new Set(words.filter((each) => each !== ''))].join('; ').slice(0, 200),
  };
}

export interface StandingRow extends Omit<StandingFinding, 'quantity'>, Record<string, unknown> {
  quantity: string;
}

export interface ExpectedRow extends Record<string, unknown> {
  position: number;
  name: string;
  quantity: string;
  partId: string | null;
  mustBeLookedAt: boolean;
  usualFate: Disposition | null;
  keptSet: string;
  keepsThickness: boolean;
}

/** Puts what was expected and what was found together, in the order of positions. */
export function componentStates(
  expected: readonly ExpectedRow[],
  standing: readonly StandingRow[],
  takenBefore: ReadonlyMap<number, number>,
): ComponentState[] {
  const findings = standing.map((row): StandingFinding => ({ ...row, quantity: decimalFrom(row.quantity) }));
  const at = (position: number) => findings.filter((finding) => finding.position === position);
  const known = expected.map(
    (row): ComponentState => ({
      ...row,
      quantity: decimalFrom(row.quantity),
      isExtra: false,
      takenBefore: decimalFrom(String(takenBefore.get(row.position) ?? 0)),
      standing: at(row.position),
    }),
  );
  const places = new Set(expected.map((row) => row.position));
  const extra = findings.filter((finding) => !places.has(finding.position));
  return [...known, ...extra.map(extraState)];
}

function extraState(finding: StandingFinding): ComponentState {
  return {
    position: finding.position,
    name: finding.name,
    quantity: finding.quantity,
    partId: finding.partId,
    mustBeLookedAt: false,
    usualFate: null,
    keptSet: '',
    keepsThickness: false,
    isExtra: true,
    takenBefore: zero,
    standing: [finding],
  };
}
