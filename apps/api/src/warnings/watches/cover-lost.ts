import { spoken } from '../../jobs/job.queries.js';
import { fateOf } from '../fates.js';
import type { Look, LookedLine } from '../look.js';
import { hasLost, type Rest, restsGone } from '../standing.js';
import type { Cause } from '../warning.js';
import { capital, lineOf, partOf, seesLine, type Watch } from './watch.js';

/** A critical line was covered and lacks something now. */
export const coverLost: Watch = {
  kind: 'cover lost',
  causes: (look) => [...look.lines.values()].filter(({ line }) => line.stops).map((looked) => causeOf(looked, look)),
  sees: seesLine,
  gone: ({ lineId }, { lines }) => {
    const looked = lines.get(lineId ?? '');
    if (looked === undefined) return 'The line is gone.';
    if (looked.line.waived !== null) return `The line was waived: ${looked.line.waived}`;
    if (looked.now.lacking !== '0') return 'It is no longer critical.';
    return `Covered again since: ${looked.now.restsOn.map(restWords).join(', ')}.`;
  },
};

/** Whether a line is one of which somebody is to be told what it lost. */
export function isLost({ line, now, before }: LookedLine): boolean {
  return line.stops && before !== null && hasLost(before, now);
}

function causeOf(looked: LookedLine, look: Look): Cause {
  const { line, job, now } = looked;
  const lost = isLost(looked);
  const subjectKey = `cover ${line.id}`;
  const open = look.live.find((warning) => warning.isOpen && warning.subjectKey === subjectKey);
  return {
    kind: 'cover lost',
    subjectKey,
    jobId: job.id,
    lineId: line.id,
    otherJobId: null,
    words: `${partOf(looked)}: ${now.lacking} lacking, and it was covered`,
    why: lost ? `${open?.why ?? `${capital(lineOf(looked))} is critical.`} ${whyOf(looked, look)}` : '',
    facts: {},
    since: lost ? 'arose' : 'known',
  };
}

/** What became of everything that it no longer rests on. */
function whyOf({ line, now, before }: LookedLine, { shared, fates }: Look): string {
  const gone = before === null ? [] : restsGone(before, now);
  return [...new Set(gone.map((rest) => fateOf(rest, { line, shared, fates })))].join(' ');
}

function restWords({ state, quantity, id, name }: Rest): string {
  const named = id === null || name === '' ? '' : state === 'on order' ? `, order ${name}` : `, ${spoken(name)}`;
  return `${quantity} ${state}${named}`;
}
