/** What spreadsheets do to what is keyed into them, so that it is told instead of taken for what stood there. */

/** A number that lost its last figures: "1.20E+04". Spreadsheets write the sign; "4E10" may be a number of its own. */
export function isShortenedNumber(text: string): boolean {
  return /^\d([.,]\d+)?E[+-]\d+$/i.test(text);
}

/** What a number such as "3-94" or "MAR-2" is turned into. */
export function mayBeDateOfSpreadsheet(text: string): boolean {
  return dateOfSpreadsheet.test(text);
}

/** A cell whose formula failed. */
export function isSpreadsheetError(text: string): boolean {
  return /^#(REF!|N\/A|VALUE!|NAME\?|NUM!|DIV\/0!|NULL!|#+)$/.test(text);
}

const dateOfSpreadsheet =
  /^(\d{1,2}-(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)|(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)-\d{2})$/;
