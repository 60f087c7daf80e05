import type { PickList, TrayKit } from '@corewright/contracts/pick-list';
import { Injectable } from '@nestjs/common';
import { closedStates, jobBrief, spoken } from '../../jobs/job.queries.js';
import { namesOfRoles } from '../../people/people.queries.js';
import { WorkshopClock } from '../../people/workshop.js';
import { keepers } from '../../platform/access/signed-in.js';
import { Database } from '../../platform/database/database.js';
import { notFound, type Refusal, RefusalError } from '../../platform/refusal.js';
import { withWhereabouts } from '../whereabouts.js';
import { WorkshopCover } from '../workshop-cover.js';
import { fetchesOf } from './fetches.js';
import { kitOfJob } from './kit-of-job.js';
import { type JobToKit, jobOfTray, jobsToKit, whereTheyLie } from './pick-list.queries.js';
import { offersAtPlaces, walkOf } from './stops.js';
import type { TrayLabel } from './tray-label.js';

/** What to fetch for jobs, as all open jobs share things out. */
@Injectable()
export class PickLists {
  constructor(
    private readonly database: Database,
    private readonly cover: WorkshopCover,
    private readonly clock: WorkshopClock,
  ) {}

  /** @throws RefusalError where a job is not in the books, or closed */
  async of(jobIds: readonly string[]): Promise<PickList> {
    const found = await jobsToKit(this.database, jobIds);
    if (found.length < jobIds.length) throw new RefusalError(notFound('One of these jobs'));
    const closed = found.filter(({ state }) => closedStates.includes(state));
    if (closed.length > 0) throw new RefusalError(whyClosed(closed));
    return this.listFor(found);
  }

  async ofTray(trayId: string): Promise<TrayKit> {
    const jobId = await jobOfTray(this.database, trayId);
    if (jobId === null) return { job: null };
    const { jobs } = await this.listFor(await jobsToKit(this.database, [jobId]));
    return { job: jobs[0] ?? null };
  }

  /** @throws RefusalError where it is no tray of an open job */
  async trayLabel(trayId: string): Promise<TrayLabel> {
    const jobId = await jobOfTray(this.database, trayId);
    const [list, brief, now] = await Promise.all([
      this.listFor(await jobsToKit(this.database, jobId === null ? [] : [jobId])),
      jobId === null ? null : jobBrief(this.database, jobId),
      this.clock.moment(),
    ]);
    const [kit] = list.jobs;
    if (kit === undefined || brief === null) throw new RefusalError(notFound('The open job of this tray'));
    return { kit, stops: list.stops, unit: brief.unit.name, now };
  }

  private async listFor(open: readonly JobToKit[]): Promise<PickList> {
    const cover = await this.cover.ofJobs(
      this.database,
      open.map(({ id }) => id),
    );
    const byId = new Map(open.map((job) => [job.id, job]));
    const lines = await withWhereabouts(
      this.database,
      cover.flatMap(({ job, lines: ofJob }) => ofJob.map((line) => ({ ...line, jobId: job.id }))),
    );
    const linesOf = (jobId: string) => lines.filter((line) => line.jobId === jobId);
    const fetches = cover.flatMap(({ job }) => fetchesOf(job.id, linesOf(job.id)));
    const lying = await whereTheyLie(this.database, [...new Set(fetches.map(({ thing }) => thing.id))]);
    const { stops, unreached } = walkOf(fetches, lying);
    const jobs = cover.flatMap(({ job: { id } }) => {
      const job = byId.get(id);
      const missed = unreached.filter(({ jobId }) => jobId === id);
      return job === undefined ? [] : [kitOfJob(job, linesOf(id), missed)];
    });
    const offers = jobs.flatMap(({ id, offers: ofJob }) => ofJob.map((offer) => ({ ...offer, jobId: id })));
    const [lyingOffers, mayAccept] = await Promise.all([
      whereTheyLie(this.database, [...new Set(offers.map(({ thing }) => thing.id))]),
      namesOfRoles(this.database, keepers),
    ]);
    return { jobs, stops, offersAt: offersAtPlaces(offers, lyingOffers), mayAccept };
  }
}

function whyClosed(closed: readonly JobToKit[]): Refusal {
  const which = closed.map(({ code, title, state }) => `${spoken(code)}, ${title}, is ${state}`).join('; ');
  return {
    status: 409,
    code: 'job-closed',
    title: closed.length === 1 ? 'The job is closed' : 'Jobs are closed',
    detail: `${which}. Nothing is fetched for a closed job: leave it off the list, or set it to building again first.`,
    values: { jobs: closed.map(({ id }) => id) },
  };
}
