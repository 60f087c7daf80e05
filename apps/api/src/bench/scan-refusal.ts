import type { ScanRefusal } from '@corewright/contracts/bench';
import { formatDecimal, zero } from '@corewright/quantities/decimal';
import { spoken } from '../jobs/job.queries.js';
import type { Reader } from '../platform/database/database.js';
import type { Refusal } from '../platform/refusal.js';
import { roomOf } from './choose-line.js';
import { equalFreeStock, jobsNamed, linesOfJob, operationsOfJob } from './scan-facts.js';
import type { ScanState, ScanStop } from './scan-state.js';

type Choice = ScanRefusal['choices'][number];

const choices: Record<Choice['kind'], Choice> = {
  quarantine: {
    kind: 'quarantine',
    words: 'Leave it off, put it in quarantine',
    detail: 'It is booked into quarantine: carry it there',
  },
  'in-place-of': { kind: 'in-place-of', words: 'Fit it in place of a line', detail: 'Your name, why, and on what evidence' },
  'further-line': { kind: 'further-line', words: 'Add it as a further line', detail: 'The job needs it beyond its parts list' },
  'have-it-here': {
    kind: 'have-it-here',
    words: 'I have it here',
    detail: 'It is booked as found, and stores are asked to look',
  },
  override: { kind: 'override', words: 'Fit it all the same, in my name', detail: 'With a reason, which stays on the record' },
  'pick-another': { kind: 'pick-another', words: 'Take an equal one that is free', detail: 'Scan the other label' },
  quantity: { kind: 'quantity', words: 'Take fewer', detail: 'Key the number after the scan' },
  'open-one': { kind: 'open-one', words: 'Open one now, and charge its use', detail: 'It stands as opened today, by you' },
};

/** A stop with what a person may choose instead. Nothing has been changed. */
export async function refusalOfStop(reader: Reader, state: ScanState, stop: ScanStop): Promise<Refusal> {
  const { thing, job } = state;
  const offered = choicesFor(state, stop);
  const asksForLines = offered.some((choice) => choice.kind === 'in-place-of' || choice.kind === 'further-line');
  const [otherJob] = stop.claimants.length > 0 ? await jobsNamed(reader, stop.claimants) : [];
  const values: ScanRefusal = {
    jobId: job.id,
    thing: { id: thing.id, code: thing.code, name: thing.name },
    choices: offered,
    lines: asksForLines ? await linesWithRoom(reader, state) : [],
    operations: asksForLines ? await operationsOfJob(reader, job.id) : [],
    suggested: stop.suggested,
    otherJob: otherJob ?? null,
    instead:
      thing.partId && offered.some((choice) => choice.kind === 'pick-another')
        ? await equalFreeStock(reader, thing.partId, thing.id, state.locked.ownerId)
        : [],
  };
  const detail = otherJob ? `${stop.detail} It is promised to ${spoken(otherJob.code)}, ${otherJob.name}.` : stop.detail;
  return { status: 409, code: stop.code, title: stop.title, detail, values };
}

function choicesFor({ mode, thing }: ScanState, stop: ScanStop): Choice[] {
  const override = mode === 'fit' ? [choices.override] : [];
  switch (stop.code) {
    case 'not-on-this-job':
    case 'not-accepted-yet':
      return mode === 'fit' ? [choices['in-place-of'], choices['further-line']] : [choices['further-line']];
    case 'unnamed':
      return mode === 'fit' && thing.kind === 'L' ? [choices['in-place-of']] : [];
    case 'line-is-full':
      return [choices['further-line']];
    case 'past-storage-life':
    case 'undated-rubber':
      return [choices.quarantine, ...override, choices['pick-another']];
    case 'held-back':
    case 'not-accepted-by-line':
      return [...override, choices['pick-another']];
    case 'claimed-for-another-job':
      return [choices['pick-another']];
    case 'none-left':
      return thing.kind === 'L' ? [choices['have-it-here'], choices['pick-another']] : [];
    case 'not-enough':
      return [choices.quantity, choices['have-it-here']];
    default:
      return [];
  }
}

async function linesWithRoom(reader: Reader, { job, mode }: ScanState): Promise<ScanRefusal['lines']> {
  const lines = await linesOfJob(reader, job.id);
  return lines.flatMap((line) => {
    const room = roomOf(line, mode);
    return room > zero ? [{ id: line.id, lineNo: line.lineNo, name: line.name, stillToCome: formatDecimal(room) }] : [];
  });
}
