import { readLength } from '@corewright/bearings/read-length';
import { badInput, done, type Result, refused } from '../../platform/refusal.js';

/** What two figures of one bearing may differ by when one was measured in a workshop, in millimetres. Common practice. */
export const toleranceMmUsual = 0.1;

/**
 * A length as keyed, in millimetres; null where nothing was keyed.
 * @param path the field, for the refusal
 */
export function keyedLength(path: string, keyed: string): Result<number | null> {
  if (keyed === '') return done(null);
  const length = readLength(keyed);
  return length.ok ? done(length.value.mm) : refused(badInput(path, length.error.sentence));
}
