import { IdParam } from '@corewright/contracts/base';
import { Coverage } from '@corewright/contracts/coverage';
import { DateGiven, GiveDate, JobCard } from '@corewright/contracts/jobs';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Answers } from '../platform/http/answers.js';
import { JobCards } from './job-card.service.js';

@Controller('jobs/:id')
export class JobCardController {
  constructor(
    private readonly cards: JobCards,
    private readonly unitOfWork: UnitOfWork,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(JobCard)
  card(@Param({ schema: IdParam }) param: { id: string }): Promise<z.infer<typeof JobCard>> {
    return this.cards.card(param.id);
  }

  @Get('coverage')
  @Allow(everyone)
  @Answers(Coverage)
  coverage(@Param({ schema: IdParam }) param: { id: string }): Promise<Coverage> {
    return this.cards.coverage(param.id);
  }

  @Post('dates')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(DateGiven)
  giveDate(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: GiveDate }) body: z.infer<typeof GiveDate>,
  ): Promise<z.infer<typeof DateGiven>> {
    return this.unitOfWork.run(command, (transaction) => this.cards.giveDate(transaction, param.id, body));
  }
}
