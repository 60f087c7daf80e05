import type { OpeningProgress } from '@corewright/contracts/opening-stock';

/** As many as a sentence holds. */
const namedMax = 3;

/** "Rack C is not in the books yet; of Rack D 3 of 12 shelves are." Null where nothing is left, or nobody has begun. */
export function sayGaps(progress: OpeningProgress | undefined): string | null {
  if (progress === undefined || !progress.started) return null;
  const open = progress.racks.filter(({ state }) => state !== 'done');
  if (open.length === 0) return null;
  const named = open
    .slice(0, namedMax)
    .map(({ name, state, done, lying, shelves }) =>
      state === 'not yet'
        ? `${name} ${lying === 0 ? 'is not in the books' : 'has not been gone through'} yet`
        : `of ${name} ${done} of ${shelves.length} shelves are in the books`,
    );
  const more = open.length - named.length;
  const words = [...named, ...(more > 0 ? [`${more} more racks are open`] : [])].join('; ');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}. What is not found may lie there.`;
}
