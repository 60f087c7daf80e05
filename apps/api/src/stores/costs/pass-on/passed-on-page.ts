import type { CostRow, PassedOn, SharingShown } from '@corewright/contracts/costs';
import { changesOfShares } from '@corewright/costing/share-cost';
import { formatMoney, type Money, noMoney } from '@corewright/quantities/money';
import { decideSharing, linesInWords, offersOf } from '../decide-sharing.js';
import type { PassingRow } from './parts-of-whole.queries.js';
import { bears, type PartThatMayBear, type PassedOnState } from './passed-on-state.js';

/** What a unit or a box passed on, as its screen shows it to those who keep the books. */
export function passedOnPage(state: PassedOnState): PassedOn {
  const { whole, ours, bore, cannot, parts, borne } = state;
  return {
    id: whole.id,
    ours,
    bore: bore === null ? null : formatMoney(bore, ours),
    kept: bore === null ? null : formatMoney(borne.get(whole.id) ?? noMoney, ours),
    cannot,
    rows: parts.filter((part) => isShown(part, state)).map((part) => rowShown(part, state)),
    offers: cannot === null ? offersOf(state.toShare) : [],
    sharings: state.passings.map((passing) => sharingShown(passing, state)),
    outOfDate: cannot === null ? whyOutOfDate(state) : [],
  };
}

/** What was put back never came out; it is shown only while it still bears something. */
function isShown({ id, putBack }: PartThatMayBear, { whole, borne }: PassedOnState): boolean {
  return id === whole.id || !putBack || (borne.get(id) ?? noMoney) !== noMoney;
}

function nameOf({ id, name, further }: PartThatMayBear, { whole }: PassedOnState): string {
  if (id === whole.id) return 'what is left in it';
  return [name, further].filter((words) => words !== '').join(', ');
}

function rowShown(part: PartThatMayBear, state: PassedOnState): CostRow {
  const { ours, borne, whole, passings } = state;
  const share = part.id === whole.id && passings.length === 0 ? undefined : borne.get(part.id);
  return {
    id: part.id,
    code: part.code,
    position: part.position,
    name: nameOf(part, state),
    quantity: part.id === whole.id ? '1' : part.quantity,
    bearsNone: part.bearsNone,
    worth: part.worth === null ? null : formatMoney(BigInt(part.worth) as Money, ours),
    weightKg: part.weightKg ?? part.typeWeightKg,
    weightByType: part.weightKg === null && part.typeWeightKg !== null,
    share: share === undefined ? null : formatMoney(share, ours),
    version: part.version,
  };
}

function sharingShown({ currency, cost, ...passing }: PassingRow, state: PassedOnState): SharingShown {
  const partOf = new Map(state.parts.map((part) => [part.id, part]));
  return {
    ...passing,
    cost: formatMoney(BigInt(cost) as Money, currency),
    notKnown: [],
    changes: state.changes
      .filter((change) => change.passingId === passing.id)
      .flatMap(({ rowId, amount }) => {
        const part = partOf.get(rowId);
        if (part === undefined) return [];
        const { position, code } = part;
        return [{ rowId, position, code, name: nameOf(part, state), amount: formatMoney(BigInt(amount) as Money, currency) }];
      }),
  };
}

/** Why what was passed on last is no longer what the books say. What was named by hand stands while the cost and the parts do. */
function whyOutOfDate({ whole, ours, bore, parts, toShare, borne, passings: [last] }: PassedOnState): string[] {
  if (last === undefined) return [];
  const lines = (wanted: (part: PartThatMayBear) => boolean) => linesInWords(parts.filter(wanted).map((part) => part.position));
  const reasons: string[] = [];
  if (bore !== null && bore !== BigInt(last.cost))
    reasons.push(
      `It bears ${formatMoney(bore, ours)} ${ours} by now; ${formatMoney(BigInt(last.cost) as Money, last.currency)} ${last.currency} was shared.`,
    );
  const isNew = (part: PartThatMayBear) => bears(part) && !borne.has(part.id);
  const isGone = (part: PartThatMayBear) => !bears(part) && (borne.get(part.id) ?? noMoney) !== noMoney;
  if (parts.some(isNew)) reasons.push(`Nothing is borne yet by ${lines(isNew)}, which came out since.`);
  if (parts.some(isGone)) reasons.push(`A share is still borne by ${lines(isGone)}, which should bear none.`);
  if (reasons.length > 0 || last.way === 'by hand') return reasons;
  const now = decideSharing(toShare, last.way, new Map());
  if (!now.ok) return [now.error.detail];
  const moved = changesOfShares(borne, now.value);
  const falls = (part: PartThatMayBear) => part.id !== whole.id && moved.has(part.id);
  return parts.some(falls) ? [`As keyed now another share falls to ${lines(falls)}.`] : [];
}
