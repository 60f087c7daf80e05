import type { Reader } from '../../platform/database/database.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';

export interface Destination {
  id: string;
  name: string;
  path: string;
  kind: string;
}

interface PlaceRow extends Destination, Record<string, unknown> {
  isClosed: boolean;
}

const placeById =
  'SELECT holder_id AS id, name, path, kind, closed_at IS NOT NULL AS "isClosed" FROM places WHERE holder_id = $1';

/** A place in which things may be put away by hand: neither closed nor the tray of a job. */
export async function placeToPut(reader: Reader, placeId: string): Promise<Result<Destination>> {
  const place = await reader.row<PlaceRow>(placeById, [placeId]);
  if (!place) return refused(notFound('This place'));
  if (place.kind === 'tray')
    return refused({
      status: 409,
      code: 'cannot-be-put-there',
      title: 'A job’s tray',
      detail: 'Parts come into a job’s tray by a pick, so that they are promised to the job. Scan the job card, then pick.',
    });
  if (place.isClosed)
    return refused({
      status: 409,
      code: 'place-closed',
      title: 'The place is closed',
      detail: `${place.path} is closed and takes no goods. Put it in another place, or open this one again on its page. Nothing was changed.`,
    });
  return done({ id: place.id, name: place.name, path: place.path, kind: place.kind });
}
