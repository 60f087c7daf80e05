import type { Reader } from '../../platform/database/database.js';
import type { PictureSubject } from '../pictures/picture-subjects.js';

const selectSigns = 'SELECT id FROM unit_type_signs WHERE id = ANY ($1::uuid[])';

/** A sign by which a type is known can be photographed; Settings and whoever identifies a unit look at it. */
export async function signsPhotographed(reader: Reader, ids: readonly string[]): Promise<ReadonlyMap<string, PictureSubject>> {
  const rows = await reader.rows<{ id: string }>(selectSigns, [ids]);
  return new Map(rows.map(({ id }) => [id, { shows: 'thing', news: ['settings', 'stores'] }]));
}
