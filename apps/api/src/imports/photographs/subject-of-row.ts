import type { Reader } from '../../platform/database/database.js';
import { placesTree } from '../places-tree.js';
import type { ArchiveRow } from './archive-rows.js';

/** By the reference under which a file brought it, else by its id. */
const selectReferred = `
  SELECT subject_id AS id FROM import_references WHERE file = $1 AND reference = $2
   UNION ALL SELECT subject_id FROM codes WHERE subject_id::text = $2 AND kind = $3 LIMIT 1`;
const selectPlace = `${placesTree} SELECT holder_id AS id FROM tree WHERE path = $1`;

/** The reference of its type and its number. */
const selectSign = `
  SELECT unit_type_signs.id FROM unit_type_signs JOIN unit_types ON unit_types.id = unit_type_id WHERE concat(reference, ' ', number) = $1`;

const files = {
  unit: ['units', 'U'],
  lot: ['lots', 'L'],
  unsorted: ['unsorted', 'X'],
  job: ['jobs', 'J'],
  component: ['', 'C'],
} as const;

/** What a photograph of an archive is of; null where that is not in the books. */
export async function subjectOf(reader: Reader, { of, reference }: ArchiveRow): Promise<string | null> {
  if (of === 'place') return (await reader.row<{ id: string }>(selectPlace, [reference]))?.id ?? null;
  if (of === 'sign') return (await reader.row<{ id: string }>(selectSign, [reference]))?.id ?? null;
  const [file, kind] = files[of];
  return (await reader.row<{ id: string }>(selectReferred, [file, reference, kind]))?.id ?? null;
}
