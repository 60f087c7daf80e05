import type { Advice, CoveredLine } from '@corewright/contracts/coverage';
import type { JobStanding, Supposition, Turn, WhatIf, WhatIfJob } from '@corewright/contracts/what-if';
import { Injectable } from '@nestjs/common';
import { countStates, coverOfJobs } from '../../coverage/cover-lines.js';
import type { WantingJob, WorkshopFacts } from '../../coverage/coverage-facts.js';
import { readWorkshopFacts } from '../../coverage/read-workshop.js';
import { shareOut } from '../../coverage/share-out.js';
import { linesThatDiffer, turnOfAll, turnOfDate } from '../../coverage/what-if/compare-standings.js';
import { partsBeside, whyNotTogether } from '../../coverage/what-if/contradictions.js';
import { resolveSuppositions } from '../../coverage/what-if/resolve-suppositions.js';
import { supposing } from '../../coverage/what-if/suppositions.js';
import { withWhereabouts } from '../../coverage/whereabouts.js';
import { WorkshopClock } from '../../people/workshop.js';
import { Database } from '../../platform/database/database.js';
import { RefusalError } from '../../platform/refusal.js';
import { adviceOn, type DateFacts, readDateFacts } from '../date-facts.js';
import { whatIfWords } from './what-if-words.js';

/** How every open job stands. */
interface Standing {
  jobs: readonly WantingJob[];
  lines: ReadonlyMap<string, readonly CoveredLine[]>;
}

/** What would be different for every open job if something were so. Nothing is written. */
@Injectable()
export class WhatIfAnswer {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
  ) {}

  /** @throws RefusalError where something is supposed of what is not there */
  async of(suppositions: readonly Supposition[]): Promise<WhatIf> {
    const contradiction = whyNotTogether(suppositions);
    if (contradiction !== null) throw new RefusalError(contradiction);
    const now = await this.clock.moment(this.database);
    const facts = await readWorkshopFacts(this.database, now.date, 'every open job', partsBeside(suppositions));
    const resolved = await resolveSuppositions(this.database, facts, suppositions);
    if (!resolved.ok) throw new RefusalError(resolved.error);
    const { supposed, words } = resolved.value;
    const dates = await readDateFacts(
      this.database,
      now,
      facts.jobs.map(({ id }) => id),
    );
    const [before, after] = [standingOf(facts), standingOf(supposing(facts, supposed))];
    const jobs = await this.withPlaces(jobsThatDiffer(before, after, dates));
    const counts = countTurns(jobs);
    return {
      supposed: suppositions.map((supposition, index) => ({ supposition, words: words[index] ?? '' })),
      openJobs: facts.jobs.length,
      counts,
      jobs,
      words: whatIfWords(facts.jobs.length, counts),
    };
  }

  /** Where the stock lies that covers the lines that are shown. */
  private async withPlaces(jobs: readonly WhatIfJob[]): Promise<WhatIfJob[]> {
    const sides = jobs.flatMap(({ lines }) => lines.flatMap(({ before, after }) => [before, after]));
    const told = new Map((await withWhereabouts(this.database, sides)).map((side, index) => [sides[index], side]));
    return jobs.map((job) => ({
      ...job,
      lines: job.lines.map((line) => ({
        ...line,
        before: told.get(line.before) ?? line.before,
        after: told.get(line.after) ?? line.after,
      })),
    }));
  }
}

function standingOf(facts: WorkshopFacts): Standing {
  return { jobs: facts.jobs, lines: coverOfJobs(shareOut(facts)) };
}

function jobsThatDiffer(before: Standing, after: Standing, dates: DateFacts): WhatIfJob[] {
  const places = new Map(before.jobs.map(({ id }, index) => [id, index + 1]));
  return after.jobs.flatMap((job, index): WhatIfJob[] => {
    const [was, would] = [before.lines.get(job.id) ?? [], after.lines.get(job.id) ?? []];
    const lines = linesThatDiffer(was, would);
    // a date rests on the cover, on the work that is left and on the calendar; only the cover is supposed
    if (lines.length === 0) return [];
    const [advised, then] = [adviceOn(job, was, dates), adviceOn(job, would, dates)];
    const dateTurn = turnOfDate(advised, then);
    const { id, code, title, dateGiven } = job;
    return [
      {
        job: { id, code, name: title },
        place: { before: places.get(id) ?? 0, after: index + 1 },
        dateGiven,
        turn: turnOfAll([...lines.map(({ turn }) => turn), dateTurn]),
        dateTurn,
        before: jobStanding(was, advised),
        after: jobStanding(would, then),
        lines,
      },
    ];
  });
}

function jobStanding(lines: readonly CoveredLine[], advice: Advice): JobStanding {
  const { kind, date, sentence, conditions, toFind } = advice;
  return {
    counts: countStates(lines),
    stops: lines.filter(({ stops }) => stops).length,
    advice: { kind, date, sentence, conditions, toFind },
  };
}

function countTurns(jobs: readonly WhatIfJob[]): Record<Turn, number> {
  const counts: Record<Turn, number> = { better: 0, worse: 0, both: 0, otherwise: 0 };
  for (const { turn } of jobs) counts[turn] += 1;
  return counts;
}
