import type { CountLine } from '@corewright/contracts/counting';
import type { Reader } from '../../platform/database/database.js';
import { picturesOf } from '../../stores/pictures/picture.queries.js';
import { keyOf, type LineKey } from '../line.queries.js';

type Doubt = CountLine['doubts'][number];

const selectDoubts = `
  SELECT count_findings.id, place_id AS "placeId", thing_id AS "thingId", words, display_name AS by, occurred_at AS at
    FROM count_findings JOIN people ON people.id = person_id WHERE count_id = $1 AND kind = 'in doubt' ORDER BY occurred_at, count_findings.id`;

/** What those who counted doubt, with their photographs, by the line. */
export async function doubtsOf(reader: Reader, countId: string): Promise<ReadonlyMap<string, Doubt[]>> {
  const rows = await reader.rows<Omit<Doubt, 'pictures'> & LineKey & Record<string, unknown>>(selectDoubts, [countId]);
  const pictures = await picturesOf(
    reader,
    rows.map(({ id }) => id),
  );
  const doubts = new Map<string, Doubt[]>();
  for (const { placeId, thingId, ...doubt } of rows) {
    const key = keyOf({ placeId, thingId });
    const shown = pictures.filter(({ subjectId, struckOut }) => subjectId === doubt.id && struckOut === null);
    doubts.set(key, [...(doubts.get(key) ?? []), { ...doubt, pictures: shown }]);
  }
  return doubts;
}
