import { Empty, IdParam } from '@corewright/contracts/base';
import {
  ConsumableList,
  ConsumableOfPart,
  FlatChargeParam,
  JobConsumables,
  KeepConsumable,
  KeepMinimum,
  MinimumOfPart,
  PutUseRight,
  ToBuy,
  UseOnJob,
  WithdrawConsumable,
} from '@corewright/contracts/consumables';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../people/workshop.js';
import { Allow, everyone, hands, keepers, Person, type SignedIn } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { done, notFound, type Result, refused } from '../platform/refusal.js';
import { lockConsumable, openContainersOf } from './consumable.queries.js';
import { ConsumablePages } from './consumable-pages.js';
import { keepMinimum, removeMinimum } from './minimums/keep-minimum.js';
import { WhatToBuy } from './minimums/to-buy.js';
import { KeepConsumableHandler, withdrawConsumable } from './settings/keep-consumable.handler.js';
import { dropFlatCharge } from './uses/drop-flat-charge.js';
import { putUseRight, useOnJob } from './uses/use-on-job.js';

type IdOfPath = z.infer<typeof IdParam>;
const lockJob = 'SELECT id, state, customer_id AS "customerId" FROM jobs WHERE id = $1 FOR NO KEY UPDATE';

/** Consumables: which parts are, how they are charged, what a job is charged, and what is to be bought. */
@Controller()
export class ConsumablesController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly database: Database,
    private readonly pages: ConsumablePages,
    private readonly keep: KeepConsumableHandler,
    private readonly clock: WorkshopClock,
    private readonly toBuy: WhatToBuy,
  ) {}

  @Get('consumables')
  @Allow(everyone)
  @Answers(ConsumableList)
  async list(@Person() person: SignedIn): Promise<z.infer<typeof ConsumableList>> {
    return { consumables: await this.pages.all(this.database, mayKnowCosts(person)) };
  }

  @Get('to-buy')
  @Allow(everyone)
  @Answers(ToBuy)
  buy(): Promise<ToBuy> {
    return this.toBuy.list();
  }

  @Get('parts/:id/consumable')
  @Allow(everyone)
  @Answers(ConsumableOfPart)
  ofPart(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<ConsumableOfPart> {
    return this.pages.ofPart(this.database, param.id, mayKnowCosts(person));
  }

  @Put('parts/:id/consumable')
  @Allow(keepers)
  @Answers(ConsumableOfPart)
  keepIt(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: KeepConsumable }) body: KeepConsumable,
  ): Promise<ConsumableOfPart> {
    return this.unitOfWork.run(command, async (transaction) => {
      const kept = await this.keep.handle(transaction, param.id, body);
      return kept.ok ? done(await this.pages.ofPart(transaction, param.id, true)) : kept;
    });
  }

  @Post('parts/:id/consumable/withdrawal')
  @Allow(keepers)
  @Answers(ConsumableOfPart)
  @HttpCode(200)
  withdraw(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: WithdrawConsumable }) body: z.infer<typeof WithdrawConsumable>,
  ): Promise<ConsumableOfPart> {
    return this.unitOfWork.run(command, async (transaction) => {
      const known = await lockConsumable(transaction, param.id);
      const today = await this.clock.today(transaction);
      const { length: openCount } = await openContainersOf(transaction, [param.id], today);
      const withdrawn = await withdrawConsumable(transaction, known, { openCount, why: body.why, today });
      return withdrawn.ok ? done(await this.pages.ofPart(transaction, param.id, true)) : withdrawn;
    });
  }

  @Put('parts/:id/minimum')
  @Allow(keepers)
  @Answers(MinimumOfPart)
  minimum(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: KeepMinimum }) body: KeepMinimum,
  ): Promise<z.infer<typeof MinimumOfPart>> {
    return this.unitOfWork.run(command, (transaction) => keepMinimum(transaction, param.id, body));
  }

  @Post('parts/:id/minimum/removal')
  @Allow(keepers)
  @Answers(MinimumOfPart)
  @HttpCode(200)
  removeMinimum(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<z.infer<typeof MinimumOfPart>> {
    return this.unitOfWork.run(command, (transaction) => removeMinimum(transaction, param.id));
  }

  @Get('jobs/:id/consumables')
  @Allow(everyone)
  @Answers(JobConsumables)
  ofJob(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<JobConsumables> {
    return this.pages.ofJob(this.database, param.id, mayKnowCosts(person));
  }

  @Post('jobs/:id/consumable-uses')
  @Allow(hands)
  @Answers(JobConsumables)
  @HttpCode(200)
  use(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: UseOnJob }) body: UseOnJob,
  ): Promise<JobConsumables> {
    return this.unitOfWork.run(command, async (transaction): Promise<Result<JobConsumables>> => {
      const job = await transaction.row<{ id: string; state: string; customerId: string | null }>(lockJob, [param.id]);
      if (job === null) return refused(notFound('This job'));
      const { override, ...asked } = body;
      const today = await this.clock.today(transaction);
      const used = await useOnJob(transaction, { ...asked, job, reason: override?.reason ?? null, occurredAt: undefined, today });
      if (used.ok) return done(await this.pages.ofJob(transaction, param.id, mayKnowCosts(person)));
      const { answer, ...refusal } = used.error;
      return refused({ ...refusal, values: { ...refusal.values, answer } });
    });
  }

  @Post('consumable-uses/:id/putting-right')
  @Allow(hands)
  @Answers(JobConsumables)
  @HttpCode(200)
  putRight(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: PutUseRight }) body: z.infer<typeof PutUseRight>,
  ): Promise<JobConsumables> {
    return this.unitOfWork.run(command, async (transaction) => {
      const right = await putUseRight(transaction, param.id, body.why);
      return right.ok ? done(await this.pages.ofJob(transaction, right.value.jobId, mayKnowCosts(person))) : right;
    });
  }

  @Post('jobs/:id/flat-charges/:chargeId/dropping')
  @Allow(keepers)
  @Answers(JobConsumables)
  @HttpCode(200)
  drop(
    @Issued() command: Command,
    @Param({ schema: FlatChargeParam }) { id, chargeId }: z.infer<typeof FlatChargeParam>,
    @Body({ schema: PutUseRight }) body: z.infer<typeof PutUseRight>,
  ): Promise<JobConsumables> {
    return this.unitOfWork.run(command, async (transaction) => {
      const dropped = await dropFlatCharge(transaction, id, chargeId, body.why);
      return dropped.ok ? done(await this.pages.ofJob(transaction, id, true)) : dropped;
    });
  }
}

/** Amounts of money are for those who keep the books. */
function mayKnowCosts({ role }: SignedIn): boolean {
  return keepers.includes(role);
}
