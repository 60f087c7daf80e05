import { compareNames } from '../../stores/place-order.js';

/**
 * Where of two ways one comes first when walking: by site, then area, rack and bin, with the numbers in their names as numbers, so that Bin 2 comes
 * before Bin 10. A place comes before the places inside it.
 * @param one a path, the site first: "Stores, Rack 3, Bin 12"
 */
export function compareWays(one: string, other: string): number {
  const [ways, others] = [one.split(', '), other.split(', ')];
  for (const [index, name] of ways.entries()) {
    const beside = others[index];
    if (beside === undefined) return 1;
    const order = compareNames(name, beside);
    if (order !== 0) return order;
  }
  return ways.length - others.length;
}
