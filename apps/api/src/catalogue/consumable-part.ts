/** SQL: whether a part is used up by the container: no job waits for it, and a job charges its use. @param partId the column that has its id */
export function isConsumable(partId: string): string {
  return `EXISTS (SELECT FROM consumables WHERE consumables.part_id = ${partId} AND NOT withdrawn)`;
}
