/** Whether a part of some material, null for what nobody has named, can be a bearing that lies in preservative. */
export function canBeBearing(material: string | null): boolean {
  return material === null || material === 'metal' || material === 'other';
}
