import type { LineWorseOff } from '@corewright/contracts/selling';
import { spoken } from '../../jobs/job.queries.js';
import { keepers, type SignedIn } from '../../platform/access/signed-in.js';
import type { Refusal } from '../../platform/refusal.js';
import { type SaleLinePlan, takenFromJobs } from '../decide-sale.js';

/** Why nothing is sold: the first thing that stands in the way of a line, with all of them as values; null where nothing does. */
export function stopped(person: SignedIn, plans: readonly (SaleLinePlan & { letGo: string })[]): Refusal | null {
  const problems = plans.flatMap((plan, index) =>
    plan.stops
      .filter(({ mayBeLetGo }) => !mayBeLetGo || plan.letGo === '')
      .map((stop) => ({ line: index, thing: thingOf(plan), ...stop })),
  );
  const [first] = problems;
  if (first !== undefined) {
    const next = first.mayBeLetGo ? ' Whoever keeps the books may let it go with a reason, which the receipt prints.' : '';
    return {
      status: 409,
      code: first.code,
      title: first.title,
      detail: `${first.thing.name}, ${spoken(first.thing.code)}: ${first.words}${next} Nothing was sold.`,
      values: { problems },
    };
  }
  const isLetGo = plans.some(({ stops }) => stops.length > 0);
  if (isLetGo && !keepers.includes(person.role)) return keepersOnly('lets go what is held back or past its storage life');
  return null;
}

/** What jobs have reserved is taken by those alone who keep the books, and with a reason; null where nothing is taken or all is said. */
export function takesUnsaid(person: SignedIn, plans: readonly SaleLinePlan[], reason: string): Refusal | null {
  const taken = takenFromJobs(plans.flatMap(({ takes }) => takes));
  if (taken.length === 0) return null;
  if (!keepers.includes(person.role)) return keepersOnly('sells what a job has reserved');
  if (reason !== '') return null;
  const who = taken.map(({ job, quantity }) => `${quantity} by “${job.name}”, ${spoken(job.code)}`).join('; ');
  return {
    status: 409,
    code: 'reserved-for-jobs',
    title: 'Reserved for jobs',
    detail: `What is left of it is reserved: ${who}. Sell fewer, or say why it is taken from them. Nothing was sold.`,
    values: { taken },
  };
}

/** Jobs would be worse off, and whoever sells was not told so: something has changed since they looked. */
export function jobsCountOnIt(
  losses: readonly { job: { id: string; code: string; title: string }; lines: readonly LineWorseOff[] }[],
): Refusal {
  const said = losses.map(
    ({ job, lines }) =>
      `“${job.title}”, ${spoken(job.code)}: ${lines.map(({ lineNo, part, before, after }) => `line ${lineNo}, ${part.name}, would turn from ${before} to ${after}`).join('; ')}`,
  );
  return {
    status: 409,
    code: 'jobs-count-on-it',
    title: 'Jobs count on it',
    detail: `${said.join('. ')}. Look at what the sale would do and press it again if it is to be sold all the same. Nothing was sold.`,
    values: { jobs: losses.map(({ job, lines }) => ({ job: { id: job.id, code: job.code, name: job.title }, lines })) },
  };
}

function keepersOnly(what: string): Refusal {
  return {
    status: 403,
    code: 'not-allowed',
    title: 'Not yours to decide',
    detail: `Only whoever keeps the books ${what}. Ask one of them to make this sale. Nothing was sold.`,
  };
}

function thingOf({ goods: { thing } }: SaleLinePlan): { id: string; code: string; name: string } {
  return { id: thing.id, code: thing.code, name: thing.name };
}
