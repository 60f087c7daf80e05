/**
 * How a number is found, however spaces, hyphens, dots and case are keyed: letters and digits only, upper case. Identity is the
 * number as printed, with its maker; two numbers may share a key.
 */
export function partNumberKey(number: string): string {
  return number
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}
