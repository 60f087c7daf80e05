import type { Advice } from '@corewright/contracts/coverage';
import { addDays } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import { coverOfJobs } from '../coverage/cover-lines.js';
import { grouped } from '../coverage/grouped.js';
import { readWorkshopFacts } from '../coverage/read-workshop.js';
import { shareOut } from '../coverage/share-out.js';
import { closedStates } from '../jobs/job.queries.js';
import { WorkshopClock } from '../people/workshop.js';
import { adviceOn, readDateFacts } from '../planning/date-facts.js';
import type { Reader } from '../platform/database/database.js';
import { agedClaimsOf } from './aged-claims.js';
import { readFates } from './fates.js';
import type { Look, LookedDate, LookedLine } from './look.js';
import { endingReservations, takingsFrom } from './reservations.queries.js';
import { isInHand, isSameStanding, restsGone, standingOf } from './standing.js';
import { jobsOnUnits, partsOfThings } from './touched.js';
import { jobsOf, type LiveWarning, type Reconciled, reconcile } from './warning.js';
import {
  datesBefore,
  end,
  forget,
  keepDates,
  keepStandings,
  liveWarnings,
  raise,
  reword,
  standingsBefore,
} from './watch.queries.js';
import { isLost } from './watches/cover-lost.js';
import { noticeDays } from './watches/reservation-ends.js';
import { watches } from './watches/watches.js';

const selectOpen = 'SELECT id FROM jobs WHERE id = ANY ($1::uuid[]) AND state <> ALL ($2)';

/** So many are reckoned at once: the rest is for the next look. */
const jobsTooMax = 8;

export interface ToLookAt {
  jobIds: readonly string[];
  thingIds: readonly string[];
  partIds: readonly string[];
}

export interface Looked {
  /** for the screens; empty where nothing is to be told */
  topics: string[];
  /** jobs whose date is to be reckoned anew: of these not every line was looked at */
  jobsToo: string[];
}

/** Looks at what was touched, compares it with how it stood, and keeps what there is to be said of that. */
@Injectable()
export class CoverLook {
  constructor(private readonly clock: WorkshopClock) {}

  /** @param reader one transaction that sees the books as they are at one moment, with nobody else looking */
  async at(reader: Reader, asked: ToLookAt): Promise<Looked> {
    const first = await this.once(reader, asked);
    if (first.jobsToo.length === 0) return first;
    const [jobIds, later] = [first.jobsToo.slice(0, jobsTooMax), first.jobsToo.slice(jobsTooMax)];
    const second = await this.once(reader, { jobIds, thingIds: [], partIds: [] });
    return { topics: [...new Set([...first.topics, ...second.topics])], jobsToo: [...later, ...second.jobsToo] };
  }

  private async once(reader: Reader, asked: ToLookAt): Promise<Looked> {
    const today = await this.clock.today(reader);
    const [ofThings, onUnits] = [await partsOfThings(reader, asked.thingIds), await jobsOnUnits(reader, asked.thingIds)];
    const partIds = [...new Set([...asked.partIds, ...ofThings])];
    const named = [...new Set([...asked.jobIds, ...onUnits])];
    const open = await reader.rows<{ id: string }>(selectOpen, [named, closedStates]);
    const whole = new Set(open.map(({ id }) => id));
    const look = await this.read(reader, today, whole, partIds);
    const closed = named.filter((id) => !whole.has(id));
    const told = judge(look, await liveWarnings(reader, closed), closed);
    await keep(reader, look, told);
    const undated = [...whole].filter((id) => !look.dates.has(id));
    await forget(reader, closed, [...closed, ...undated]);
    return { topics: topicsOf(told), jobsToo: jobsToo(look) };
  }

  private async read(reader: Reader, today: string, whole: ReadonlySet<string>, partIds: readonly string[]): Promise<Look> {
    const shared = shareOut(await readWorkshopFacts(reader, today, { jobIds: [...whole], partIds }));
    const jobs = new Map(shared.facts.jobs.map((job) => [job.id, job]));
    const covered = [...coverOfJobs(shared)].flatMap(([jobId, lines]) => lines.map((line) => ({ job: jobs.get(jobId)!, line })));
    const before = await standingsBefore(
      reader,
      covered.map(({ line }) => line.id),
    );
    const lines = new Map(
      covered.map(({ job, line }): [string, LookedLine] => [
        line.id,
        { line, job, now: standingOf(line, shared), before: before.get(line.id) ?? null },
      ]),
    );
    const lost = [...lines.values()].filter(isLost);
    const touched = new Set([...whole, ...covered.map(({ job }) => job.id)]);
    const [dates, aged, ending, takings, fates, live] = [
      await this.dates(reader, lines, whole),
      await agedClaimsOf(reader, [...touched], today),
      await endingReservations(reader, [...touched], addDays(today, noticeDays)),
      await takingsFrom(reader, [...touched]),
      await readFates(reader, new Map(lost.map(({ line, now, before }) => [line.id, before ? restsGone(before, now) : []]))),
      await liveWarnings(reader, [...touched]),
    ];
    return { today, shared, lines, whole, touched, dates, aged, ending, takings, fates, live };
  }

  private async dates(
    reader: Reader,
    lines: ReadonlyMap<string, LookedLine>,
    whole: ReadonlySet<string>,
  ): Promise<Map<string, LookedDate>> {
    const byJob = grouped(lines.values(), ({ job }) => job.id);
    const found = new Map<string, LookedDate>();
    const before = await datesBefore(reader, [...whole]);
    if (before.length === 0) return found;
    const now = await this.clock.moment(reader);
    const dates = await readDateFacts(
      reader,
      now,
      before.map(({ jobId }) => jobId),
    );
    for (const { jobId, customer, given, held, known, ...advised } of before) {
      const looked = byJob.get(jobId) ?? [];
      const job = looked[0]?.job;
      // a job without a line waits for nothing
      if (job === undefined || job.dateGiven === null) continue;
      const advice = adviceOn(
        job,
        looked.map(({ line }) => line),
        dates,
      );
      const heldWhenGiven = known ? holds(job.dateGiven, advised.advisedKind, advised.advisedDate) : null;
      found.set(jobId, {
        job,
        given: job.dateGiven,
        holds: holds(job.dateGiven, advice.kind, advice.date),
        why: whyThen(advice),
        earliest: advice.date,
        customer,
        held: given === job.dateGiven ? held : heldWhenGiven,
      });
    }
    return found;
  }
}

/** Whether a date that was given is one that the advice carries, be it only an “if”. */
function holds(given: string, kind: string, date: string | null): boolean {
  return kind !== 'none' && date !== null && date <= given;
}

/** What the day rests on: what is lacking, or what is waited for longest. */
function whyThen({ kind, sentence, chain }: Advice): string {
  const waits = chain.findLast((link) => link.kind === 'receipt');
  return kind === 'none' || waits === undefined ? sentence : `${waits.sentence}.`;
}

/** What every watch has to say, and that what was open of closed jobs is settled. */
function judge(look: Look, ofClosed: readonly LiveWarning[], closed: readonly string[]): Reconciled {
  const made: Reconciled = { raise: [], reword: [], end: [] };
  const isOver = (warning: LiveWarning) => jobsOf(warning).some((id) => closed.includes(id));
  for (const warning of ofClosed) made.end.push({ warning, words: 'The job is closed.' });
  for (const watch of watches) {
    const live = look.live.filter((each) => each.kind === watch.kind && !isOver(each));
    const told = reconcile(live, watch.causes(look), {
      sees: (warning) => watch.sees(warning, look),
      gone: (warning) => watch.gone(warning, look),
    });
    made.raise.push(...told.raise);
    made.reword.push(...told.reword);
    made.end.push(...told.end);
  }
  return made;
}

async function keep(reader: Reader, look: Look, told: Reconciled): Promise<void> {
  for (const { warning, words } of told.end) await end(reader, warning.id, words);
  for (const cause of told.raise) await raise(reader, cause);
  for (const { id, ...words } of told.reword) await reword(reader, id, words);
  const changed = [...look.lines.values()].filter(({ before, now }) => before === null || !isSameStanding(before, now));
  await keepStandings(
    reader,
    changed.map(({ line, job, now }) => ({ lineId: line.id, jobId: job.id, now })),
  );
  await keepDates(
    reader,
    [...look.dates].map(([jobId, { given, holds }]) => ({ jobId, given, holds })),
  );
}

function topicsOf({ raise, reword, end }: Reconciled): string[] {
  const jobs = [
    ...raise.flatMap(jobsOf),
    ...reword.flatMap(({ jobIds }) => jobIds),
    ...end.filter(({ warning }) => warning.isOpen).flatMap(({ warning }) => jobsOf(warning)),
  ];
  return jobs.length === 0 ? [] : ['warnings', 'today', ...new Set(jobs.map((id) => `job:${id}`))];
}

/** Jobs with a date of which some lines were looked at beside others' and may have changed when they come to be finished. */
function jobsToo({ lines, whole }: Look): string[] {
  const changed = [...lines.values()].filter(
    ({ job, before, now }) =>
      job.dateGiven !== null &&
      !whole.has(job.id) &&
      (before === null || !isSameStanding(before, now)) &&
      !(before && isInHand(before) && isInHand(now)),
  );
  return [...new Set(changed.map(({ job }) => job.id))];
}
