import { changedMeanwhile, type Refusal } from '../refusal.js';
import type { Command } from './command.js';

/**
 * Why an edit may not go on: the person did not say which version they saw, or someone changed the row since.
 * @param current the row as it is now, which the refusal shows
 */
export function whyNotCurrent(command: Command, current: { version: number }): Refusal | null {
  if (command.versionSeen === null)
    return {
      status: 428,
      code: 'if-match-missing',
      title: 'Which version?',
      detail: 'An edit needs the header If-Match with the version that was seen, so that nobody overwrites what another wrote.',
    };
  return command.versionSeen === current.version ? null : changedMeanwhile(current);
}
