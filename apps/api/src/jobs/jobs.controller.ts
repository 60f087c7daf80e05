import { IdParam } from '@corewright/contracts/base';
import {
  AddJobLine,
  EditJob,
  EditOperation,
  JobBrief,
  JobChanged,
  JobList,
  JobQuery,
  LineAdded,
  LineParam,
  OpenJob,
  Operation,
  OperationParam,
  RecordFinding,
  WaiveJobLine,
} from '@corewright/contracts/jobs';
import { Body, Controller, Get, HttpCode, Param, Patch, Post, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { cursorOf, NextPageLink, placeOf } from '../platform/http/next-page.js';
import { done, invariant } from '../platform/refusal.js';
import { jobBrief, listJobs } from './job.queries.js';
import { addJobLine, editJob, editOperation, recordFinding, waiveJobLine } from './job-edits.js';
import { OpenJobHandler } from './open-job/open-job.handler.js';

@Controller('jobs')
export class JobsController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly database: Database,
    private readonly openJob: OpenJobHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @UseInterceptors(NextPageLink)
  @Answers(JobList)
  async list(@Query({ schema: JobQuery }) query: z.infer<typeof JobQuery>): Promise<z.infer<typeof JobList>> {
    const position = placeOf(query.cursor, ['number', 'string', 'string', 'uuid'])?.map(String);
    const after = position
      ? { priority: Number(position[0]), dateGiven: position[1] || null, openedOn: position[2] ?? '', id: position[3] ?? '' }
      : null;
    const jobs = await listJobs(this.database, {
      state: query.state ?? null,
      open: query.open === undefined ? null : query.open === 'yes',
      after,
      limit: query.limit + 1,
    });
    const page = jobs.slice(0, query.limit);
    const last = page.at(-1);
    const cursor =
      jobs.length > query.limit && last ? cursorOf([last.priority, last.dateGiven ?? '', last.openedOn, last.id]) : null;
    return { jobs: page, cursor };
  }

  @Post()
  @HttpCode(200)
  @Allow(keepers)
  @Answers(JobBrief)
  open(@Issued() command: Command, @Body({ schema: OpenJob }) body: z.infer<typeof OpenJob>): Promise<JobBrief> {
    return this.unitOfWork.run(command, async (transaction) => {
      const opened = await this.openJob.handle(transaction, body);
      if (!opened.ok) return opened;
      const brief = await jobBrief(transaction, opened.value.id);
      invariant(brief, 'a job that was opened is there');
      return done(brief);
    });
  }

  @Patch(':id')
  @Allow(keepers)
  @Answers(JobChanged)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: EditJob }) body: z.infer<typeof EditJob>,
  ): Promise<z.infer<typeof JobChanged>> {
    return this.unitOfWork.run(command, (transaction) => editJob(transaction, param.id, body));
  }

  @Post(':id/lines')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(LineAdded)
  addLine(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: AddJobLine }) body: z.infer<typeof AddJobLine>,
  ): Promise<z.infer<typeof LineAdded>> {
    return this.unitOfWork.run(command, (transaction) => addJobLine(transaction, param.id, body));
  }

  @Post(':id/lines/:lineId/waive')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(LineAdded)
  waive(
    @Issued() command: Command,
    @Param({ schema: LineParam }) param: z.infer<typeof LineParam>,
    @Body({ schema: WaiveJobLine }) body: z.infer<typeof WaiveJobLine>,
  ): Promise<z.infer<typeof LineAdded>> {
    return this.unitOfWork.run(command, (transaction) => waiveJobLine(transaction, param.id, param.lineId, body.reason));
  }

  @Post(':id/lines/:lineId/findings')
  @HttpCode(200)
  @Allow(hands)
  @Answers(LineAdded)
  find(
    @Issued() command: Command,
    @Param({ schema: LineParam }) param: z.infer<typeof LineParam>,
    @Body({ schema: RecordFinding }) body: z.infer<typeof RecordFinding>,
  ): Promise<z.infer<typeof LineAdded>> {
    return this.unitOfWork.run(command, (transaction) => recordFinding(transaction, param.id, param.lineId, body));
  }

  @Patch(':id/operations/:operationId')
  @Allow(hands)
  @Answers(Operation)
  work(
    @Issued() command: Command,
    @Param({ schema: OperationParam }) param: z.infer<typeof OperationParam>,
    @Body({ schema: EditOperation }) body: z.infer<typeof EditOperation>,
  ): Promise<Operation> {
    return this.unitOfWork.run(command, (transaction) => editOperation(transaction, param.id, param.operationId, body));
  }
}
