import { compareDecimals, decimalFrom, formatDecimal, one, subtractDecimals } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import type { Balance, LockedThing } from '../../stores/ledger.js';

export interface Opening {
  thing: Pick<LockedThing, 'held' | 'claimed' | 'heldBackReason' | 'condemned'>;
  name: string;
  balances: readonly Pick<Balance, 'holderId' | 'kind' | 'quantity' | 'name'>[];
  /** where it is taken from; null: wherever most of them lie */
  placeId: string | null;
  /** null: nobody knows since when */
  openedOn: string | null;
  today: string;
  oneAtATime: boolean;
  /** those of this consumable that are open already; `isThis`: the very one */
  open: readonly { words: string; isThis: boolean }[];
  hasLabelKeyed: boolean;
}

/** From which place one is opened, and whether the last of its lot is. */
export interface ToOpen {
  placeId: string;
  isLast: boolean;
}

/** Whether a container may be opened, and which. What is past its use-by date may be: its use is asked about. Pure. */
export function decideOpening(opening: Opening): Result<ToOpen> {
  const { thing, name, balances, placeId, openedOn, today } = opening;
  if (opening.open.some(({ isThis }) => isThis))
    return stopped(
      'open-already',
      'Open already',
      `This one is open. Say that it is empty when it is; the next is opened from the full ones.`,
    );
  if (openedOn !== null && openedOn > today)
    return refused({
      ...problem(
        'bad-input',
        'That cannot be taken',
        `${formatPlainDate(openedOn)} is still to come. Key the day on which it was opened.`,
      ),
      status: 422,
    });
  const [open] = opening.open;
  if (opening.oneAtATime && open !== undefined)
    return stopped(
      'one-open',
      'One is open already',
      `Of ${name} one container at a time is open: ${open.words}. Use that one up, or say that it is empty or thrown away.`,
    );
  if (thing.condemned) return stopped('condemned', 'Condemned', 'It is condemned and only disposed of.');
  if (thing.heldBackReason !== null)
    return stopped('held-back', 'Held back', `It is held back: ${thing.heldBackReason}. Lift the hold first, or open another.`);
  const here = balances.filter((each) => each.kind === 'place' && (placeId === null || each.holderId === placeId));
  const [most] = here.filter(({ quantity }) => compareDecimals(decimalFrom(quantity), one) >= 0);
  if (most === undefined) return stopped('none-left', 'None is there', noneThere(opening));
  const free = subtractDecimals(decimalFrom(thing.held), decimalFrom(thing.claimed));
  if (free < one)
    return stopped(
      'claimed-for-another-job',
      'Reserved',
      `All ${formatDecimal(decimalFrom(thing.held))} of it are reserved for jobs: the claims stand on its page. Release one first.`,
    );
  const isLast = compareDecimals(decimalFrom(thing.held), one) === 0;
  if (isLast && opening.hasLabelKeyed)
    return stopped(
      'has-a-label',
      'It has its label',
      'It is the last of its lot and goes on under the label of the lot. Leave the blank label off.',
    );
  return done({ placeId: most.holderId, isLast });
}

function noneThere({ balances, placeId }: Opening): string {
  const lies = balances.filter(({ kind }) => kind === 'place');
  if (lies.length === 0) return 'By the books no full one lies in a place of the stores. Book one in, or put it away first.';
  return placeId === null
    ? 'Less than one lies in each place.'
    : `By the books none lies there. It lies in ${lies.map(({ name }) => name).join(' and ')}.`;
}

function stopped(code: string, title: string, words: string): Result<never> {
  return refused(problem(code, title, `${words} Nothing was changed.`));
}

function problem(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail };
}
