import type { Reader } from '../../platform/database/database.js';
import type { PictureSubject } from '../../stores/pictures/picture-subjects.js';

const selectFindings = 'SELECT id FROM count_findings WHERE id = ANY ($1::uuid[])';

/** What was found in a count can be photographed, and so can what is in doubt; once it is a thing of the books it bears a code, and is one. */
export async function countFindingsPhotographed(
  reader: Reader,
  ids: readonly string[],
): Promise<ReadonlyMap<string, PictureSubject>> {
  const rows = await reader.rows<{ id: string }>(selectFindings, [ids]);
  return new Map(rows.map(({ id }) => [id, { shows: 'finding', news: ['counts'] }]));
}
