import { IdParam } from '@corewright/contracts/base';
import { EditKnownNumbers, EditSign, KnownBy, SignKept, SignParam } from '@corewright/contracts/identify';
import { Body, Controller, Get, Param, Put } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../../people/workshop.js';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { editKnownNumbers } from './edit-numbers.js';
import { editSign } from './edit-sign.js';
import { knownByOf } from './known-by.queries.js';

@Controller('unit-types/:id')
export class KnownByController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly clock: WorkshopClock,
  ) {}

  /** What one type is known by, with what was withdrawn. */
  @Get('known-by')
  @Allow(everyone)
  @Answers(KnownBy)
  async knownBy(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<KnownBy> {
    const known = await knownByOf(this.database, param.id);
    if (known === null) throw new RefusalError(notFound('That unit type'));
    return known;
  }

  @Put('signs/:signId')
  @Allow(keepers)
  @Answers(SignKept)
  sign(
    @Issued() command: Command,
    @Param({ schema: SignParam }) param: z.infer<typeof SignParam>,
    @Body({ schema: EditSign }) body: EditSign,
  ): Promise<SignKept> {
    return this.unitOfWork.run(command, async (transaction) =>
      editSign(transaction, param.id, param.signId, body, await this.clock.today(transaction)),
    );
  }

  @Put('numbers')
  @Allow(keepers)
  @Answers(KnownBy)
  numbers(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: EditKnownNumbers }) body: EditKnownNumbers,
  ): Promise<KnownBy> {
    return this.unitOfWork.run(command, (transaction) => editKnownNumbers(transaction, param.id, body));
  }
}
