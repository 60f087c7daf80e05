/** Whether a decision on a line can be undone; what is marked as not found is found by a scan. */
export function canBeTakenBack(decision: string): boolean {
  return decision === 'posted' || decision === 'moved' || decision === 'left';
}
