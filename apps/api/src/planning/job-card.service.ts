import type { Coverage } from '@corewright/contracts/coverage';
import type { DateGiven, GiveDate, JobCard } from '@corewright/contracts/jobs';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { countStates } from '../coverage/cover-lines.js';
import { WorkshopCover } from '../coverage/workshop-cover.js';
import { jobBrief } from '../jobs/job.queries.js';
import { WorkshopClock } from '../people/workshop.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { Database, type Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { badInput, done, invariant, notFound, RefusalError, type Result, refused } from '../platform/refusal.js';
import { picturesOf } from '../stores/pictures/picture.queries.js';
import { adviceOn, readDateFacts } from './date-facts.js';
import { cardFacts, type JobFacts, readDatesGiven, readJobFacts, readJobOperations, readRecordOf } from './job-card.queries.js';

const lockJob = 'SELECT 1 FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const insertDate = `
  INSERT INTO dates_given (id, command_key, job_id, given, against_advice, reason, advice, person_id) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`;

/** A job's card: what each line has and lacks, and when it can be promised. */
@Injectable()
export class JobCards {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
    private readonly cover: WorkshopCover,
  ) {}

  /** @throws RefusalError where the job is not in the books */
  async card(id: string): Promise<z.infer<typeof JobCard>> {
    const facts = await this.factsOf(this.database, id);
    const [brief, operations, coverage, dates, record, pictures] = await Promise.all([
      jobBrief(this.database, id),
      readJobOperations(this.database, id),
      this.coverageOf(this.database, facts),
      readDatesGiven(this.database, id),
      readRecordOf(this.database, id),
      picturesOf(this.database, [facts.unitId, id]),
    ]);
    invariant(brief, 'a job with facts has a brief');
    return { ...brief, ...cardFacts(facts), operations, coverage, dates, record, pictures: pictures.toReversed() };
  }

  async coverage(id: string): Promise<Coverage> {
    return this.coverageOf(this.database, await this.factsOf(this.database, id));
  }

  /** Reckons the cover and the date of a job, with all other jobs that bear on it, from the books as the reader sees them. */
  async coverageOf(reader: Reader, job: Pick<JobFacts, 'id' | 'state'>): Promise<Coverage> {
    const [lines, dates] = await Promise.all([
      this.cover.ofJob(reader, job.id),
      this.clock.moment(reader).then((now) => readDateFacts(reader, now, [job.id])),
    ]);
    return { lines, counts: countStates(lines), advice: adviceOn(job, lines, dates) };
  }

  /** Gives a customer a date. One that the advice does not carry needs a reason, and both stay on the record. */
  async giveDate(
    transaction: Transaction,
    id: string,
    input: z.infer<typeof GiveDate>,
  ): Promise<Result<z.infer<typeof DateGiven>>> {
    await transaction.row(lockJob, [id]);
    const job = await readJobFacts(transaction, id);
    if (!job) return refused(notFound('This job'));
    const { advice } = await this.coverageOf(transaction, job);
    if (advice.kind === 'done')
      return refused({
        status: 409,
        code: 'job-closed',
        title: 'The job is closed',
        detail: `${advice.sentence} No date is given for it any more.`,
      });
    if (input.given < advice.reckonedOn) return refused(badInput('given', 'That day has passed. Give a day from today on.'));
    const againstAdvice = advice.kind !== 'firm' || advice.date === null || input.given < advice.date;
    if (againstAdvice && input.reason === '') return refused(againstAdviceRefusal(advice, input.given));
    const { key, person } = transaction.command;
    const row = { id: newId(), given: input.given, againstAdvice, reason: againstAdvice ? input.reason : input.reason || null };
    await transaction.rows(insertDate, [
      row.id,
      key,
      id,
      row.given,
      againstAdvice,
      row.reason,
      JSON.stringify(advice),
      person.id,
    ]);
    transaction.news(`job:${id}`, 'jobs', 'today');
    const { kind, date, sentence } = advice;
    return done({ ...row, by: person.displayName, at: new Date().toISOString(), advised: { kind, date, sentence } });
  }

  private async factsOf(reader: Reader, id: string): Promise<JobFacts> {
    const facts = await readJobFacts(reader, id);
    if (!facts) throw new RefusalError(notFound('This job'));
    return facts;
  }
}

function againstAdviceRefusal(advice: Coverage['advice'], given: string) {
  const earliest =
    advice.kind === 'firm' && advice.date ? ` The earliest date is ${formatPlainDate(advice.date)}.` : ` ${advice.sentence}`;
  return {
    status: 409,
    code: 'against-advice',
    title: 'Against advice',
    detail: `${formatPlainDate(given)} goes against advice.${earliest} Give the reason why it is promised all the same; it stays on the record.`,
    values: { advice },
  };
}
