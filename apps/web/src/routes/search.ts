/** One text out of an address's search, under its name; absent when there is none. */
export function oneText<Name extends string>(search: Record<string, unknown>, name: Name): { [Key in Name]?: string } {
  const value = search[name];
  const found: { [Key in Name]?: string } = {};
  // the router reads `q=219` as a number: an order's number is a text all the same
  if (typeof value === 'string' && value !== '') found[name] = value;
  else if (typeof value === 'number') found[name] = String(value);
  return found;
}

/** One of these choices out of an address's search; absent where it is none of them. */
export function oneOf<Name extends string, Value extends string>(
  search: Record<string, unknown>,
  name: Name,
  values: readonly Value[],
): { [Key in Name]?: Value } {
  const found: { [Key in Name]?: Value } = {};
  const value = values.find((each) => each === search[name]);
  if (value !== undefined) found[name] = value;
  return found;
}

/** An address's search without what is empty. */
export function kept<Search extends Record<string, string>>(search: Search): Partial<Search> {
  return Object.fromEntries(Object.entries(search).filter(([, text]) => text !== '')) as Partial<Search>;
}

/** A path of this app to go back to after signing in. An address of elsewhere, however it is dressed, leads to Today. */
export function pathWithin(path: string | undefined): string {
  if (path === undefined || !/^\/(?![/\\])/.test(path) || path.startsWith('/sign-in')) return '/';
  return path;
}
