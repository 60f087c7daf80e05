import { sourceWords } from '../../coverage/elsewhere.js';
import type { Look, LookedLine } from '../look.js';
import type { Cause } from '../warning.js';
import { capital, lineOf, partOf, type Watch } from './watch.js';

/** Critical lines of two jobs could use something of which there is not enough for both. */
export const twoWantTheLast: Watch = {
  kind: 'two want the last',
  causes: (look) =>
    [...look.lines.values()].flatMap((looked) => looked.now.rivals.flatMap((rivalId) => causeOf(looked, rivalId, look) ?? [])),
  sees: ({ lineId, facts }, { lines }) => lines.has(lineId ?? '') && lines.has(String(facts.rivalId)),
  gone: ({ lineId, facts }, { lines }) => {
    const [first, second] = [lines.get(String(facts.rivalId)), lines.get(lineId ?? '')];
    if (first === undefined || second === undefined) return 'It is no longer so.';
    if (second.now.lacking === '0') return 'There is enough for both now.';
    return `${partOf(first)} no longer lies between them: ${lineOf(second)} lacks ${second.now.lacking}.`;
  },
};

function causeOf(second: LookedLine, rivalId: string, look: Look): Cause | null {
  const first = look.lines.get(rivalId);
  if (first === undefined) return null;
  const [one, other] = [first.line.id, second.line.id].toSorted();
  return {
    kind: 'two want the last',
    // whichever of them goes first: it is one quarrel
    subjectKey: `last ${one} ${other}`,
    jobId: second.job.id,
    lineId: second.line.id,
    otherJobId: first.job.id,
    words: `Two jobs want the last: ${partOf(first)}`,
    why: `${sourcesBetween(first, second, look)} goes to ${lineOf(first)} first, so ${lineOf(second)} lacks ${second.now.lacking}. Both are critical.`,
    facts: { rivalId },
    since: hasArisen(first, second) ? 'arose' : 'known',
  };
}

/** What lay between them when both were looked at for the first time is nothing new; with a new line it is. */
function hasArisen(first: LookedLine, second: LookedLine): boolean {
  if (first.before === null && second.before === null) return false;
  return second.before?.rivals.includes(first.line.id) !== true && first.before?.rivals.includes(second.line.id) !== true;
}

function sourcesBetween(first: LookedLine, second: LookedLine, { shared }: Look): string {
  const may = new Set((shared.mayServe.get(second.line.id) ?? []).map(({ source }) => source.id));
  const given = (shared.given.get(first.line.id) ?? []).filter(({ source }) => may.has(source.id));
  return capital(given.map(({ source }) => sourceWords(source)).join(' and '));
}
