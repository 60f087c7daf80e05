/** Refused tries of the last minutes, newest first, each by its age in seconds. */
export interface RecentRefusals {
  ofName: readonly number[];
  ofAddress: readonly number[];
}

export const throttleWindowSeconds = 300;
export const refusalsMaxOfName = 5;
export const refusalsMaxOfAddress = 20;

/**
 * How long a name or an address must wait before its next try, in whole seconds; null: no wait.
 * So many refusals within the window are let through; the next try waits until the oldest of them has left the window.
 */
export function decideThrottle(recent: RecentRefusals): number | null {
  const waits = [waitOf(recent.ofName, refusalsMaxOfName), waitOf(recent.ofAddress, refusalsMaxOfAddress)];
  const longest = Math.max(...waits);
  return longest > 0 ? Math.ceil(longest) : null;
}

function waitOf(ages: readonly number[], most: number): number {
  const decisive = ages[most - 1];
  return decisive === undefined ? 0 : throttleWindowSeconds - decisive;
}
