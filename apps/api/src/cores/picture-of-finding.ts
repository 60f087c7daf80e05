import type { Reader } from '../platform/database/database.js';
import type { PictureSubject } from '../stores/pictures/picture-subjects.js';

const selectFindings = `
  SELECT strip_findings.id, unit_id AS "unitId" FROM strip_findings JOIN strip_downs ON strip_downs.id = strip_down_id
   WHERE strip_findings.id = ANY ($1::uuid[])`;

/** What was seen at a strip-down can be photographed; the pages of its unit show it. */
export async function findingsPhotographed(reader: Reader, ids: readonly string[]): Promise<ReadonlyMap<string, PictureSubject>> {
  const rows = await reader.rows<{ id: string; unitId: string }>(selectFindings, [ids]);
  return new Map(rows.map(({ id, unitId }) => [id, { shows: 'finding', news: [`thing:${unitId}`, 'strip-downs'] }]));
}
