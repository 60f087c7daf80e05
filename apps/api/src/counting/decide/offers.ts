import type { CountDecisionKind, CountLine } from '@corewright/contracts/counting';
import type { Line } from '../lines.js';

/** What may be decided of a line, the likeliest first. */
export function offersOf({
  state,
  thing,
  isTray,
  isOpen,
}: Pick<Line, 'state' | 'thing' | 'isTray' | 'isOpen'>): CountDecisionKind[] {
  if (!isOpen) return [];
  if (isTray) return offersInTray(state, thing);
  const isLot = thing.kind === 'L';
  const isOurs = thing.ownerId === null;
  switch (state) {
    case 'short':
      return [...(isOurs ? ['post' as const] : []), 'again', 'leave'];
    case 'missing':
      return [...(thing.isMissing ? [] : ['missing' as const]), ...(isLot && isOurs ? ['post' as const] : []), 'again', 'leave'];
    case 'found':
      return [...(isLot ? ['post' as const] : []), 'again', 'leave'];
    case 'lies elsewhere by the books':
      return ['move', ...(isLot ? ['post' as const] : []), 'again', 'leave'];
    case 'counted twice':
    case 'to be keyed once more':
      return [...(isLot ? ['post' as const] : []), 'again', 'leave'];
    case 'no number keyed':
    case 'taken back meanwhile':
      return ['again', 'leave'];
    case 'to be counted again':
      return ['leave'];
    case 'agrees':
      return [];
  }
}

/** What lies in a tray is promised to its job: what is short goes off the job, and what is more is scanned onto it. */
function offersInTray(state: Line['state'], { kind, ownerId }: Line['thing']): CountDecisionKind[] {
  switch (state) {
    case 'short':
    case 'missing':
    case 'counted twice':
    case 'to be keyed once more':
      return [...(kind === 'L' && ownerId === null ? ['post' as const] : []), 'again', 'leave'];
    case 'to be counted again':
      return ['leave'];
    case 'agrees':
      return [];
    default:
      return ['again', 'leave'];
  }
}

const whys: Record<CountLine['state'], string> = {
  agrees: 'What was counted is what the books held at that moment.',
  short: 'Fewer were counted than the books held at that moment.',
  found: 'More were counted than the books held there, and by the books none lies in another place.',
  missing: 'Everything there was scanned, and this was not among it.',
  'lies elsewhere by the books': 'The books have it in another place: it was put down here, or there is more of it.',
  'counted twice': 'Two people have counted it. Say whose number it is, or that they had shared it out.',
  'no number keyed': 'It was scanned, and nobody has keyed how many there are.',
  'to be keyed once more': 'The number is odd, and whoever keyed it was asked for it once more.',
  'taken back meanwhile':
    'A scan from before the entry was taken back after it: nobody knows whether it lay there. Count it again.',
  'to be counted again': 'A second look was asked for, and nobody has looked yet.',
};

/** Why a line stands where it stands, and what stops it from being posted. */
export function whyOf({ state, thing, isTray }: Pick<Line, 'state' | 'thing' | 'isTray'>): string {
  const isShort = state === 'short' || state === 'missing';
  if (isShort && thing.ownerId !== null)
    return `${whys[state]} It is ${thing.owner ?? 'a customer'}’s: it is never written off without the owner’s word. Ask them, and leave it until then.`;
  if (isTray) return `${whys[state]} ${whyInTray(state, thing)}`.trim();
  if (state === 'missing' && thing.isMissing) return `${whys[state]} It is marked as not found already.`;
  if (state === 'found' && thing.kind !== 'L')
    return `${whys[state]} It has a tag of its own: put right on its page where the books have it, then it can be put away here.`;
  return whys[state];
}

function whyInTray(state: Line['state'], { kind }: Line['thing']): string {
  switch (state) {
    case 'short':
    case 'missing':
      return kind === 'L'
        ? 'Posted, it goes off the job with what was promised of it: the job lacks it from then on, and is warned.'
        : 'It has a tag of its own: take the pick back, then mark it as not found where it was picked.';
    case 'found':
    case 'lies elsewhere by the books':
      return 'Scan it onto the job in the mode “pick”, so that it is promised to it; then have it counted again, or leave it.';
    default:
      return '';
  }
}
