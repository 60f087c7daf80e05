import type { CoveredLine } from '@corewright/contracts/coverage';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { coverLines, coverOfJobs } from './cover-lines.js';
import type { WantingJob } from './coverage-facts.js';
import { readWorkshopFacts } from './read-workshop.js';
import { type SharedOut, shareOut } from './share-out.js';
import { withWhereabouts } from './whereabouts.js';

/** The cover of every open job. */
export interface CoverOfAll {
  /** in the order in which they are served */
  jobs: readonly WantingJob[];
  lines: ReadonlyMap<string, readonly CoveredLine[]>;
}

/** What each line of a job is covered with when all open jobs are weighed together, from the books as the reader sees them. */
@Injectable()
export class WorkshopCover {
  constructor(private readonly clock: WorkshopClock) {}

  async ofJob(reader: Reader, jobId: string): Promise<CoveredLine[]> {
    const facts = await readWorkshopFacts(reader, await this.clock.today(reader), { jobId });
    return withWhereabouts(reader, coverLines(shareOut(facts), jobId));
  }

  /** Each of these open jobs with its cover, in the order in which they are served. */
  async ofJobs(reader: Reader, jobIds: readonly string[]): Promise<{ job: WantingJob; lines: readonly CoveredLine[] }[]> {
    const facts = await readWorkshopFacts(reader, await this.clock.today(reader), { jobIds, partIds: [] });
    const shared = shareOut(facts);
    return facts.jobs.filter(({ id }) => jobIds.includes(id)).map((job) => ({ job, lines: coverLines(shared, job.id) }));
  }

  async ofAll(reader: Reader): Promise<CoverOfAll> {
    const shared = await this.sharedOut(reader);
    return { jobs: shared.facts.jobs, lines: coverOfJobs(shared) };
  }

  /** What goes where over all open jobs. */
  async sharedOut(reader: Reader): Promise<SharedOut> {
    return shareOut(await readWorkshopFacts(reader, await this.clock.today(reader), 'every open job'));
  }
}
