import { type Decimal, decimalFrom, lesserDecimal, notBelowZero, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Claim } from './ledger.js';

/** So much of a claim leaves the tray; of that, `stays` is still reserved. */
export interface LeavingClaim {
  claimId: string;
  lineId: string | null;
  quantity: Decimal;
  stays: Decimal;
}

/**
 * What of a job's claims on a thing leaves the tray with so many of it. What lies in the tray is what was claimed first; what was claimed last of that
 * leaves first.
 * @param claims of this job on the thing, the oldest first
 * @param inTray so many lie in the tray before
 * @param going so many go back
 * @param reserved so many of them stay reserved
 */
export function leavingClaims(claims: readonly Claim[], inTray: Decimal, going: Decimal, reserved: Decimal): LeavingClaim[] {
  let tray = inTray;
  const laidBy = claims.map((claim) => {
    const part = lesserDecimal(decimalFrom(claim.quantity), tray);
    tray = subtractDecimals(tray, part);
    return { claim, part };
  });
  // what lies in the tray and nobody claimed goes back before what is promised
  let left = notBelowZero(subtractDecimals(going, tray));
  const leaving: LeavingClaim[] = [];
  for (const { claim, part } of laidBy.toReversed()) {
    const quantity = lesserDecimal(left, part);
    if (quantity > zero) leaving.push({ claimId: claim.id, lineId: claim.purposeId, quantity, stays: zero });
    left = subtractDecimals(left, quantity);
  }
  let stay = reserved;
  return leaving.toReversed().map((each) => {
    const stays = lesserDecimal(stay, each.quantity);
    stay = subtractDecimals(stay, stays);
    return { ...each, stays };
  });
}
