import type { Reader } from '../../platform/database/database.js';
import { inOrder } from '../place-order.js';
import { type Bin, binsIn, type Likeness, type LikeThere, thingsLike } from './alike.queries.js';

const likenesses: readonly Likeness[] = ['same part', 'same name', 'same type'];

const begins: Record<Likeness, string> = {
  'same part': 'Others of this part lie in',
  'same name': 'Parts of this name lie in',
  'same type': 'Others of this type stand in',
};

/** "Others of this part lie in Stores, Rack B, Bin 4 (12); an empty bin near them is Bin 5." Empty where there is nothing to say. */
export async function sayAlike(reader: Reader, thingId: string): Promise<string> {
  for (const likeness of likenesses) {
    const found = await thingsLike(reader, thingId, likeness);
    const [most] = found;
    if (most === undefined) continue;
    const empty = most.parentId === null ? null : nearestEmpty(await binsIn(reader, most.parentId), most.placeId);
    return `${sayThere(likeness, found)}${empty === null ? '' : `; an empty bin near them is ${empty.name}`}.`;
  }
  return '';
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
