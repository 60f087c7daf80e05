import type { LyingThing } from '@corewright/contracts/places';

export type ThingState = 'missing' | 'condemned' | 'held' | 'customer';

export interface StateSaid {
  readonly state: ThingState;
  readonly words: string;
}

/** What bears on using a thing, the gravest first, each in words. */
export function statesOf(thing: Pick<LyingThing, 'isMissing' | 'condemned' | 'heldBack' | 'owner'>): readonly StateSaid[] {
  return [
    thing.isMissing ? { state: 'missing' as const, words: 'not found' } : null,
    thing.condemned ? { state: 'condemned' as const, words: 'condemned' } : null,
    thing.heldBack === null ? null : { state: 'held' as const, words: `held back: ${thing.heldBack}` },
    thing.owner === null ? null : { state: 'customer' as const, words: `property of ${thing.owner}` },
  ].filter((said) => said !== null);
}

/** What has lain longer than this without anybody moving it is worth a date, in days. */
const LONG_DAYS = 180;

/** Since when something has lain untouched, where that is long; null where it moved lately. */
export function lainSince(at: string, now: Date): boolean {
  return now.getTime() - new Date(at).getTime() > LONG_DAYS * 86_400_000;
}
