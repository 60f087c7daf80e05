/**
 * Label codes: a kind letter, at least six digits and two check digits, `U00041221`, shown as `U 000412 21`.
 *
 * The check digits are those of ISO/IEC 7064 MOD 97-10 over the whole code, each letter taken as two digits
 * (A = 10 … Z = 35) as ISO 13616 does for account numbers. Every single wrong character is refused; of other
 * errors about 1 in 97 passes, so whoever scans is always shown what the code stands for.
 */

/** Kind letters and the word for what bears such a code. */
export const labelKinds = {
  U: 'unit',
  L: 'lot',
  C: 'component',
  X: 'unsorted box',
  P: 'place',
  J: 'job',
  T: 'tool',
  B: 'badge',
  K: 'command card',
} as const;

export type LabelKind = keyof typeof labelKinds;

/** A code that was checked, in its one canonical spelling (no spaces, capital letter). */
export type LabelCode = string & { readonly __brand: 'LabelCode' };

export interface ParsedCode {
  kind: LabelKind;
  /** The number within its kind, 1 to {@link serialMax}. */
  serial: number;
  code: LabelCode;
}

export type CodeErrorKind = 'empty' | 'wrong-form' | 'unknown-kind' | 'wrong-check';

export interface CodeError {
  kind: CodeErrorKind;
  /** A plain sentence for the person who scanned or keyed it. */
  message: string;
}

export type CodeResult = { ok: true; value: ParsedCode } | { ok: false; error: CodeError };

/** Nine digits: a workshop that prints a thousand labels a day reaches it after some 2,700 years. */
export const serialMax = 999_999_999;

const serialDigitsMin = 6;
const form = /^([A-Z])(\d{6}|[1-9]\d{6,8})(\d{2})$/;

/**
 * Makes the code of a kind and serial.
 * @throws RangeError when the serial is not a whole number from 1 to {@link serialMax}: that is a bug of the caller.
 */
export function makeCode(kind: LabelKind, serial: number): LabelCode {
  if (!Number.isInteger(serial) || serial < 1 || serial > serialMax) {
    throw new RangeError(`A label code needs a serial from 1 to ${serialMax}, not ${serial}`);
  }
  const body = kind + String(serial).padStart(serialDigitsMin, '0');
  const check = 98 - remainder97(`${body}00`);
  return `${body}${String(check).padStart(2, '0')}` as LabelCode;
}

/**
 * Reads a code as it was scanned or keyed: spaces and small letters are taken, nothing else is put right.
 * The form is looked at before the check digits, for the check alone would pass junk of the right remainder.
 */
export function parseCode(text: string): CodeResult {
  const packed = text.replace(/\s+/g, '').toUpperCase();
  if (packed === '') return refuse('empty', 'No code was given. Scan a label, or key the letter and digits printed on it.');
  const parts = form.exec(packed);
  if (parts === null) {
    return refuse(
      'wrong-form',
      `“${shorten(text.trim())}” is not a label code. A code is one letter and at least eight digits, as U 000412 21.`,
    );
  }
  const serial = Number(parts[2]);
  if (serial === 0) return refuse('wrong-form', 'Numbers of labels begin at 1; this one is 0. Read the label again.');
  const letter = parts[1]!;
  if (!isLabelKind(letter)) {
    return refuse('unknown-kind', `No label begins with ${letter}. Codes begin with ${Object.keys(labelKinds).join(', ')}.`);
  }
  // 98 minus a remainder of 0 to 96 gives 02 to 98, so 00, 01 and 99 never belong to a code though they may leave 1.
  const check = Number(parts[3]);
  if (check < 2 || check > 98 || remainder97(packed) !== 1) {
    return refuse(
      'wrong-check',
      `The check digits of ${spaced(letter, parts[2]!, parts[3]!)} do not agree. Read the label again.`,
    );
  }
  return { ok: true, value: { kind: letter, serial, code: packed as LabelCode } };
}

/** Kind, digits and check digits apart, for print in which the check digits step back in size. */
export function codeParts(code: LabelCode): { kind: LabelKind; digits: string; check: string } {
  const kind = code.charAt(0);
  if (!isLabelKind(kind)) throw new Error(`Not a label code: ${code}`);
  return { kind, digits: code.slice(1, -2), check: code.slice(-2) };
}

/** The code as people see it: `U 000412 21`. */
export function formatCode(code: LabelCode): string {
  const { kind, digits, check } = codeParts(code);
  return spaced(kind, digits, check);
}

/** What the tag of a component says of where it came from, for display only: `U 000412 21, 3 of 9`. */
export function formatComponentOf(unit: LabelCode, number: number, count: number): string {
  return `${formatCode(unit)}, ${number} of ${count}`;
}

export function isLabelKind(letter: string): letter is LabelKind {
  return Object.hasOwn(labelKinds, letter);
}

/**
 * Remainder by 97 of a text of digits and capital letters, a letter counting as two digits (ISO 13616 annex, ISO/IEC 7064).
 * Worked off digit by digit, so it stays within a small integer whatever the length.
 */
export function remainder97(text: string): number {
  let remainder = 0;
  for (const character of text) {
    const value = Number.parseInt(character, 36);
    remainder = (remainder * (value > 9 ? 100 : 10) + value) % 97;
  }
  return remainder;
}

function spaced(kind: string, digits: string, check: string): string {
  return `${kind} ${digits} ${check}`;
}

function refuse(kind: CodeErrorKind, message: string): CodeResult {
  return { ok: false, error: { kind, message } };
}

function shorten(text: string): string {
  return text.length > 24 ? `${text.slice(0, 23)}…` : text;
}
