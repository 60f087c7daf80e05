import type { Refusal } from '../refusal.js';

interface Failure {
  code?: unknown;
  constraint?: unknown;
}

function sqlStateOf(error: unknown): string {
  const code = (error as Failure | null)?.code;
  return typeof code === 'string' ? code : '';
}

/** Thrown by work that must begin again, knowing more than it did: its transaction is undone and tried once more. */
export class BeginAgain extends Error {
  readonly code = '40001';
}

/** Two transactions met: trying once more is right. */
export function isPassingConflict(error: unknown): boolean {
  const state = sqlStateOf(error);
  return state === '40001' || state === '40P01';
}

const sentences: Record<string, Pick<Refusal, 'code' | 'title' | 'detail'>> = {
  claims_within_held: {
    code: 'claimed-for-another-job',
    title: 'Promised elsewhere',
    detail: 'What is left of this is promised to a job. Nothing was changed.',
  },
  claims_within_expected: {
    code: 'claimed-for-another-job',
    title: 'Promised elsewhere',
    detail: 'What is still to come of this order is promised to jobs. Nothing was changed.',
  },
  things_held_check: {
    code: 'none-left',
    title: 'None left',
    detail: 'The books do not hold that many of this. Nothing was changed.',
  },
  nothing_below_none: {
    code: 'none-left',
    title: 'None left',
    detail: 'The books do not hold that many of this there. Nothing was changed.',
  },
  a_single_thing_is_one: {
    code: 'none-left',
    title: 'Only one',
    detail: 'There is one of this, and it is somewhere else by now. Nothing was changed.',
  },
  balances_one_holder_of_a_single_thing: {
    code: 'none-left',
    title: 'Only one',
    detail: 'This is one thing and is in another place by now. Nothing was changed.',
  },
  kept_set_one_job: {
    code: 'kept-set-elsewhere',
    title: 'It belongs to a set',
    detail:
      'Parts of its kept set are promised to another job or fitted there, and a set goes to one job only. Take the whole set, or break it with a name and a reason. Nothing was changed.',
  },
  kept_set_members_of_one_set: {
    code: 'in-another-set',
    title: 'It belongs to a set already',
    detail: 'One of these was bound in another set meanwhile. Nothing was changed.',
  },
  merged_is_gone: {
    code: 'part-of-another-lot',
    title: 'Part of another lot by now',
    detail:
      'It turned out to be the same as another lot and goes on as part of that. Scan its label again: it opens that one. Nothing was changed.',
  },
  void_codes_stay: {
    code: 'code-void',
    title: 'This label is void',
    detail: 'A label that was taken off is never used again. Take another blank label. Nothing was changed.',
  },
  named_within_box: {
    code: 'more-than-in-box',
    title: 'More than there were',
    detail: 'More was named of this box by now than was counted in it. Look at its page. Nothing was changed.',
  },
  sold_is_ours: {
    code: 'not-to-be-sold',
    title: 'Not to be sold',
    detail: 'One of these is a customer’s, or was condemned meanwhile. Nothing was sold.',
  },
  back_within_sold: {
    code: 'more-than-sold',
    title: 'More than was sold',
    detail: 'No more comes back than was sold, and no more is given back than was paid. Nothing was changed.',
  },
  strip_downs_one_open: {
    code: 'strip-down-begun',
    title: 'It is being stripped',
    detail: 'Somebody has begun to strip this unit. Open it on the bench and go on there. Nothing was changed.',
  },
};

/** The rule that the database itself held, in words; null where the failure is something else. */
export function refusalOfConstraint(error: unknown): Refusal | null {
  const state = sqlStateOf(error);
  const constraint = String((error as Failure | null)?.constraint ?? '');
  const known = sentences[constraint];
  if (known && (state === '23514' || state === '23505')) return { status: 409, ...known };
  if (state === '23505')
    return {
      status: 409,
      code: 'already-there',
      title: 'Already there',
      detail: 'There is one with these particulars already. Nothing was changed; look it up instead.',
      values: { rule: constraint },
    };
  if (state === '23503')
    return {
      status: 422,
      code: 'refers-to-nothing',
      title: 'Not in the books',
      detail: 'This refers to something that is not in the books. Nothing was changed.',
      values: { rule: constraint },
    };
  const unkeepable = refusalOfUnkeepable(error);
  if (unkeepable) return unkeepable;
  if (state === 'CW003')
    return {
      status: 422,
      code: 'place-in-itself',
      title: 'A place in itself',
      detail: 'A place cannot lie inside itself. Choose another place to hold it.',
    };
  if (state === 'CW028')
    return {
      status: 409,
      code: 'place-closed',
      title: 'The place is closed',
      detail:
        'A closed place takes no goods and no places, and only an empty one is closed. Choose another place, or open this one again on its page. Nothing was changed.',
    };
  if (state === 'CW029')
    return {
      status: 409,
      code: 'cannot-stand-there',
      title: 'It cannot stand there',
      detail:
        'A site stands in nothing but a site, and nothing stands in a job’s tray. Choose another place. Nothing was changed.',
    };
  return null;
}

/** A character that no text of the database can hold: the one of the number nought. */
export function refusalOfUnkeepable(error: unknown): Refusal | null {
  const state = sqlStateOf(error);
  if (state !== '22021' && state !== '22P05') return null;
  return {
    status: 422,
    code: 'bad-input',
    title: 'That cannot be taken',
    detail:
      'There is a character in it that cannot be kept, perhaps from a scanner or a damaged file. Key it again by hand. Nothing was changed.',
  };
}

/** The database cannot work at all just now: the client keeps what it has and tries again. */
export function refusalOfTrouble(error: unknown): Refusal | null {
  const state = sqlStateOf(error);
  if (state === '53100')
    return {
      status: 507,
      code: 'disk-full',
      title: 'The disk is full',
      detail:
        'The disk of the server is full, so nothing was written. Free some space on it; what you keyed is kept here and can be sent again.',
    };
  const gone =
    state.startsWith('08') ||
    state.startsWith('57P') ||
    state.startsWith('53') ||
    ['ECONNREFUSED', 'ECONNRESET', 'ENOENT', 'EPIPE'].includes(state);
  const message = error instanceof Error ? error.message : '';
  if (
    gone ||
    /Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error/.test(message)
  )
    return {
      status: 503,
      code: 'database-silent',
      title: 'The books cannot be reached',
      detail:
        'The database does not answer. It is not known whether this was written: send it again as it is, and it counts once.',
    };
  return null;
}
