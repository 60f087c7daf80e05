import type { MissingShown } from '@corewright/contracts/not-there';
import type { Reader } from '../../platform/database/database.js';

const selectOpenFlag = `
  SELECT coalesce(people.display_name, '') AS by, words FROM stores_flags LEFT JOIN people ON people.id = person_id
   WHERE thing_id = $1 AND kind = 'not there' AND settled_at IS NULL ORDER BY raised_at DESC LIMIT 1`;

/** Since when a thing is missing, who looked for it, and where; null where it is not. */
export async function missingOf(
  reader: Reader,
  { id, missingSince }: { id: string; missingSince: string | null },
): Promise<MissingShown | null> {
  if (missingSince === null) return null;
  const flag = await reader.row<Pick<MissingShown, 'by' | 'words'> & Record<string, unknown>>(selectOpenFlag, [id]);
  return { since: missingSince, by: flag?.by ?? '', words: flag?.words ?? '' };
}
