/**
 * Whether a decision on a line can be undone; what is marked as not found is found by a scan, and so is what went off a job: a scan onto the job
 * finds it in the hand and promises it again.
 */
export function canBeTakenBack(decision: string, isTray: boolean): boolean {
  return decision === 'left' || (!isTray && (decision === 'posted' || decision === 'moved'));
}
