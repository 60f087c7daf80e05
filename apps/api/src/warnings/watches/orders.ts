import { formatPlainDate } from '@corewright/quantities/plain-date';
import type { ReceiptFact } from '../../coverage/coverage-facts.js';
import type { Look, LookedLine } from '../look.js';
import type { Cause, LiveWarning } from '../warning.js';
import { capital, lineOf, partOf, seesLine, type Watch } from './watch.js';

interface Resting {
  receipt: ReceiptFact;
  looked: LookedLine;
}

/** The day of an order on which a line rests has passed. */
export const orderLate: Watch = {
  kind: 'order late',
  causes: (look) =>
    restingOn(look)
      .filter(({ receipt }) => receipt.dueOn !== null && receipt.dueOn < look.today)
      .map(({ receipt, looked }) => ({
        ...causeOf('order late', receipt, looked),
        words: `Order ${receipt.orderReference} is late: ${whatOf(looked, receipt)}`,
        why: `${receipt.supplier} was to deliver on ${formatPlainDate(receipt.dueOn ?? '')}, and ${lineOf(looked)} rests on it. Ask, and write down what they say.`,
        since: 'stands',
      })),
  sees: seesLine,
  gone: (warning, look) => {
    const receipt = receiptOf(warning, look);
    return receipt?.dueOn != null && receipt.dueOn >= look.today
      ? `It is due on ${formatPlainDate(receipt.dueOn)} now.`
      : noLonger(warning, look);
  },
};

/** The day of an order on which a line rests was put back. */
export const orderPutBack: Watch = {
  kind: 'order put back',
  causes: (look) => restingOn(look).flatMap((resting) => putBack(resting, look) ?? []),
  sees: seesLine,
  gone: (warning, look) => {
    const receipt = receiptOf(warning, look);
    return receipt?.dueOn != null ? `It is due on ${formatPlainDate(receipt.dueOn)} again.` : noLonger(warning, look);
  },
};

/** Each order on which a job rests, once, with the first of its lines. */
function restingOn({ lines, shared }: Look): Resting[] {
  const receipts = new Map(shared.facts.receipts.map((receipt) => [receipt.id, receipt]));
  const found = new Map<string, Resting>();
  for (const looked of lines.values())
    for (const { id, state } of looked.now.restsOn) {
      const receipt = state === 'on order' ? receipts.get(id ?? '') : undefined;
      const key = `${receipt?.id} ${looked.job.id}`;
      if (receipt !== undefined && !found.has(key)) found.set(key, { receipt, looked });
    }
  return [...found.values()];
}

/** The day that counts is the one before it was put back first, until it is kept again or somebody has seen to it. */
function putBack({ receipt, looked }: Resting, { live }: Look): Cause | null {
  const core = causeOf('order put back', receipt, looked);
  const known = live.find(({ subjectKey }) => subjectKey === core.subjectKey);
  const before = looked.before?.restsOn.find(({ id }) => id === receipt.id)?.dueOn ?? null;
  const first = (known?.facts.was as string | undefined) ?? before;
  if (first === null || !isLater(receipt.dueOn, first)) return null;
  const moved = before !== null && isLater(receipt.dueOn, before);
  const now = receipt.dueOn === null ? 'no date is given any more' : `it comes on ${formatPlainDate(receipt.dueOn)}`;
  return {
    ...core,
    words: `Order ${receipt.orderReference} was put back: ${now}, not on ${formatPlainDate(first)}`,
    why: `${receipt.supplier} brings ${whatOf(looked, receipt)} with it, and ${lineOf(looked)} rests on it.`,
    facts: { ...core.facts, was: first },
    since: moved ? 'arose' : 'known',
  };
}

function isLater(dueOn: string | null, than: string): boolean {
  return dueOn === null || dueOn > than;
}

function causeOf(kind: 'order late' | 'order put back', receipt: ReceiptFact, { line, job }: LookedLine) {
  return {
    kind,
    subjectKey: `${kind} ${receipt.id} ${job.id}`,
    jobId: job.id,
    lineId: line.id,
    otherJobId: null,
    facts: { receiptId: receipt.id, orderReference: receipt.orderReference },
  };
}

function whatOf(looked: LookedLine, { id }: ReceiptFact): string {
  const rest = looked.now.restsOn.find((each) => each.id === id);
  return `${rest?.quantity ?? looked.line.needed} of ${partOf(looked)}`;
}

function receiptOf({ facts }: LiveWarning, { shared }: Look): ReceiptFact | undefined {
  return shared.facts.receipts.find(({ id }) => id === facts.receiptId);
}

function noLonger(warning: LiveWarning, look: Look): string {
  const looked = look.lines.get(warning.lineId ?? '');
  const which = looked === undefined ? 'the job' : lineOf(looked);
  return receiptOf(warning, look) === undefined
    ? `Order ${String(warning.facts.orderReference)} came, or was called off.`
    : `${capital(which)} no longer rests on it.`;
}
