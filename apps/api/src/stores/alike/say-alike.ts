import type { AlikeLie } from '@corewright/contracts/places';
import type { Reader } from '../../platform/database/database.js';
import { inOrder } from '../place-order.js';
import { type Bin, binsIn, type Likeness, type LikeThere, type Sought, thingsLike } from './alike.queries.js';

const begins: Record<Likeness, string> = {
  'same part': 'Others of this part lie in',
  'same name': 'Parts of this name lie in',
  'same type': 'Others of this type stand in',
};

const nowhere: AlikeLie = { words: '', places: [] };

/**
 * "Others of this part lie in Stores, Rack B, Bin 4 (12); an empty bin near them is Bin 5.", with the place where most of them lie and that bin. Empty
 * where there is nothing to say.
 */
export async function sayAlike(reader: Reader, sought: Sought): Promise<AlikeLie> {
  const like = await thingsLike(reader, sought);
  const most = like?.found[0];
  if (like === null || most === undefined) return nowhere;
  const empty = most.parentId === null ? null : nearestEmpty(await binsIn(reader, most.parentId), most.placeId);
  const places = [{ id: most.placeId, path: most.path }, ...(empty === null ? [] : [{ id: empty.id, path: empty.path }])];
  return {
    words: `${sayThere(like.likeness, like.found)}${empty === null ? '' : `; an empty bin near them is ${empty.name}`}.`,
    places,
  };
}

/** The same after something was put away, without the full stop: where the others lie, none of which lies here. */
export function sayOthersElsewhere(found: readonly LikeThere[], placeId: string): string | null {
  if (found.length === 0 || found.some((there) => there.placeId === placeId)) return null;
  return `${sayThere('same part', found)}.`;
}

function sayThere(likeness: Likeness, found: readonly LikeThere[]): string {
  return `${begins[likeness]} ${found.map(({ path, quantity }) => `${path} (${quantity})`).join('; ')}`;
}

/** The empty bin that stands fewest bins away, the one before it where two stand as near. */
export function nearestEmpty({ all, empty }: { all: readonly Bin[]; empty: readonly Bin[] }, fromId: string): Bin | null {
  const order = inOrder(all).map(({ id }) => id);
  const from = order.indexOf(fromId);
  const away = ({ id }: Bin) => Math.abs(order.indexOf(id) - from);
  return inOrder(empty).reduce<Bin | null>((best, bin) => (best === null || away(bin) < away(best) ? bin : best), null);
}
