import { type PartHit, PartList } from '@corewright/contracts/catalogue';
import { api } from './client.js';

/**
 * The first parts that answer to what is being keyed. A page ends with the number itself where that is there; while somebody still types, what
 * begins so is wanted beside it.
 */
export async function partsFor(typed: string, most: number, signal: AbortSignal): Promise<readonly PartHit[]> {
  const parts: PartHit[] = [];
  let cursor: string | null = '';
  while (cursor !== null && parts.length < most) {
    const asked = new URLSearchParams({ q: typed, limit: String(most - parts.length), ...(cursor === '' ? {} : { cursor }) });
    const page: { parts: PartHit[]; cursor: string | null } = await api.get(PartList, `/api/parts?${asked}`, { signal });
    parts.push(...page.parts);
    cursor = page.cursor;
  }
  return parts;
}
