import type { Reader } from '../platform/database/database.js';
import { badInput, done, type Result, refused } from '../platform/refusal.js';

export interface PlaceForGoods {
  id: string;
  name: string;
  path: string;
  kind: string;
}

interface PlaceRow extends PlaceForGoods, Record<string, unknown> {
  isClosed: boolean;
}

const placeById =
  'SELECT holder_id AS id, name, path, kind, closed_at IS NOT NULL AS "isClosed" FROM places WHERE holder_id = $1';

/**
 * A place in which goods may be put by hand, by a scan or by a form: one of the books that is neither closed nor the tray of a job.
 * @param field of the form, by which the refusal is shown there
 */
export async function placeForGoods(reader: Reader, placeId: string, field = 'placeId'): Promise<Result<PlaceForGoods>> {
  const place = await reader.row<PlaceRow>(placeById, [placeId]);
  if (place === null)
    return refused(badInput(field, 'That place is not in the books. Scan a place, or choose one from the list.'));
  const { isClosed, ...found } = place;
  if (place.kind === 'tray')
    return barred(
      field,
      'cannot-be-put-there',
      'A job’s tray',
      `${place.path} is the kit tray of a job. Parts come into it by a pick, so that they are promised to the job: scan the job card, then pick.`,
    );
  if (isClosed)
    return barred(
      field,
      'place-closed',
      'The place is closed',
      `${place.path} is closed and takes no goods. Choose another place, or open this one again on its page.`,
    );
  return done(found);
}

function barred(field: string, code: string, title: string, words: string): Result<never> {
  const detail = `${words} Nothing was changed.`;
  return refused({ status: 409, code, title, detail, values: { fields: [{ path: field, words: detail }] } });
}
