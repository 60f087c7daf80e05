import { IdParam } from '@corewright/contracts/base';
import { IdentificationList, IdentifyUnit, UnidentifiedList } from '@corewright/contracts/identify';
import { Thing } from '@corewright/contracts/stores';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { identificationsOf, unidentifiedUnits } from './identification.queries.js';
import { IdentifyUnitHandler } from './identify-unit.handler.js';

@Controller('units')
export class IdentifyController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly identifyUnit: IdentifyUnitHandler,
  ) {}

  @Get('unidentified')
  @Allow(everyone)
  @Answers(UnidentifiedList)
  unidentified(): Promise<z.infer<typeof UnidentifiedList>> {
    return unidentifiedUnits(this.database);
  }

  @Get(':id/identifications')
  @Allow(everyone)
  @Answers(IdentificationList)
  async identifications(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<z.infer<typeof IdentificationList>> {
    return { identifications: await identificationsOf(this.database, param.id) };
  }

  @Post(':id/identification')
  @Allow(keepers)
  @Answers(Thing)
  @HttpCode(200)
  identify(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: IdentifyUnit }) body: IdentifyUnit,
  ): Promise<Thing> {
    return this.unitOfWork.run(command, (transaction) => this.identifyUnit.handle(transaction, param.id, body));
  }
}
