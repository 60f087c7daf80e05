/** The places of this program, in the order of the rail. One that does not exist yet is not shown. */
export const places = [
  { name: 'Today', path: '/', far: false },
  { name: 'Goods-in', path: '/goods-in', far: false },
  { name: 'Stores', path: '/stores', far: false },
  { name: 'Jobs', path: '/jobs', far: false },
  { name: 'Bench', path: '/bench', far: true },
  { name: 'Cross-reference', path: '/cross-reference', far: true },
  { name: 'Settings', path: '/settings', far: true },
] as const;

export type Place = (typeof places)[number];

/** Whether a path lies in a place; Today is only itself. */
export function isWithin(place: Place, pathname: string): boolean {
  return place.path === '/' ? pathname === '/' : pathname === place.path || pathname.startsWith(`${place.path}/`);
}
