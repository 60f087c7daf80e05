/**
 * A spreadsheet runs what begins with one of these. An apostrophe before it makes it text again, there and here; one that was there
 * before gets another, so that what is read back is what was written.
 */
const wouldRun = /^'*[=+\-@]/;
const madeText = /^'+[=+\-@]/;

/** A cell as it goes into a file that somebody may open in a spreadsheet. */
export function cellForSpreadsheet(text: string): string {
  return wouldRun.test(text) ? `'${text}` : text;
}

/** What such a cell says. */
export function cellFromSpreadsheet(text: string): string {
  return madeText.test(text) ? text.slice(1) : text;
}
