/**
 * A UUID of version 7 (RFC 9562, 5.7): 48 bits of Unix milliseconds, then random bits.
 * Made here rather than by `crypto.randomUUID`, which browsers withhold on plain HTTP.
 * @param unixMilliseconds the instant, whole milliseconds
 * @param random ten bytes of randomness or more
 */
export function uuidVersion7(unixMilliseconds: number, random: Uint8Array): string {
  if (random.length < 10) throw new Error('uuidVersion7 needs ten random bytes');
  const bytes = new Uint8Array(16);
  let rest = unixMilliseconds;
  for (let index = 5; index >= 0; index -= 1) {
    bytes[index] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  bytes.set(random.subarray(0, 10), 6);
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** A fresh id for a command or a record, in the order of its making. */
export function newKey(): string {
  return uuidVersion7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}
