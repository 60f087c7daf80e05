import type { MissingShown } from '@corewright/contracts/not-there';
import type { Thing } from '@corewright/contracts/stores';
import { done, type Result, refused } from '../../platform/refusal.js';

type Holding = Thing['holdings'][number];

export interface LookedFor {
  holdings: readonly Holding[];
  /** null: in every place in which the books have it */
  placeId: string | null;
  missing: MissingShown | null;
}

/** Whether a thing may be marked missing, and in which places it was looked for then. What no place holds is not looked for in stores. */
export function decideNotThere({ holdings, placeId, missing }: LookedFor): Result<readonly Holding[]> {
  if (missing !== null)
    return stopped(
      'missing-already',
      'Marked missing already',
      `${missing.by || 'Somebody'} looked for it before. ${missing.words} It stays marked until somebody finds it.`,
    );
  const named = placeId === null ? null : holdings.find((holding) => holding.holderId === placeId);
  if (named === undefined)
    return stopped(
      'not-in-stores',
      'Not there by the books either',
      `By the books none of it lies there. ${whereItIs(holdings)}`,
    );
  const inPlaces = holdings.filter(isPlace);
  if (inPlaces.length === 0 || (named !== null && !isPlace(named)))
    return stopped('not-in-stores', 'Not in a place of the stores', whereItIs(named === null ? holdings : [named]));
  if (named !== null && inPlaces.length > 1)
    return stopped(
      'lies-elsewhere-too',
      'It lies elsewhere too',
      `By the books it lies in ${sayPlaces(inPlaces)}. Look there too; where it is in none of them, mark it on its own page.`,
    );
  return done(inPlaces);
}

/** "Stores, Bin 4 and Stores, Bin 9" */
export function sayPlaces(holdings: readonly Holding[]): string {
  return holdings.map(({ words }) => words).join(' and ');
}

/** A place of the stores; what lies in a tray was picked, and is looked for at the bench. */
export function isPlace({ holderKind }: Holding): boolean {
  return holderKind === 'place';
}

function whereItIs(holdings: readonly Holding[]): string {
  const [first] = holdings;
  if (first === undefined) return 'Nothing of it is held any more.';
  switch (first.holderKind) {
    case 'place':
      return `It lies in ${first.words}.`;
    case 'tray':
      return `It was picked: it lies in ${first.words}, the tray of a job. Where it is not, take the pick back first.`;
    case 'unit':
      return `It is fitted: it is in ${first.words}.`;
    case 'box':
      return `It is in ${first.words}.`;
    default:
      return `It is not here: it is with ${first.words}.`;
  }
}

function stopped(code: string, title: string, words: string): { ok: false; error: Parameters<typeof refused>[0] } {
  return refused({ status: 409, code, title, detail: `${words} Nothing was changed.` });
}
