import { compareDecimals, type Decimal, decimalFrom, formatDecimal, multiplyByInteger } from '@corewright/quantities/decimal';

/** Of fewer than this nobody keys a nought too many without seeing it. */
const fewest = decimalFrom('20');
const tenfold = 10;
/** A shorter run of figures stands in a code by chance. */
const codeFiguresLeast = 4;

/**
 * Whether a number that was keyed is so odd that it has to be keyed once more: more than twenty and ten times what there ever was of it; figures
 * that come in pairs, as a scanner gives them that types everything twice; figures out of the label's own code. Pairs are asked for
 * whatever the books say: to ask only where the half is the books' figure would tell it.
 * @param everHeld the most that was ever held of it
 */
export function isOdd(quantity: Decimal, everHeld: Decimal, code: string): boolean {
  return isManyTimes(quantity, everHeld) || isPaired(formatDecimal(quantity)) || isOutOf(formatDecimal(quantity), code);
}

/** More than twenty, and at least ten times so many. */
export function isManyTimes(quantity: Decimal, than: Decimal): boolean {
  return compareDecimals(quantity, fewest) > 0 && compareDecimals(quantity, multiplyByInteger(than, tenfold)) >= 0;
}

/** "1122" for "12", and "1212". */
function isPaired(figures: string): boolean {
  return /^(?:(\d)\1)+$/.test(figures) || /^(\d+)\1$/.test(figures);
}

function isOutOf(figures: string, code: string): boolean {
  return figures.length >= codeFiguresLeast && code.replace(/\D/g, '').includes(figures);
}
