import {
  BearingTables,
  BearingTablesQuery,
  KeepDimensions,
  KeepSuffix,
  StrikeDimensions,
  StrikeSuffix,
} from '@corewright/contracts/bearings';
import { Body, Controller, Get, HttpCode, Post, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../../platform/access/signed-in.js';
import { type Command, Issued } from '../../../platform/commands/command.js';
import { UnitOfWork } from '../../../platform/commands/unit-of-work.js';
import { Database } from '../../../platform/database/database.js';
import { Answers } from '../../../platform/http/answers.js';
import { BearingTablesAnswer } from './bearing-tables.js';
import { EditTablesHandler } from './edit-tables.handler.js';

@Controller('bearing-tables')
export class BearingTablesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly tables: BearingTablesAnswer,
    private readonly edit: EditTablesHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(BearingTables)
  all(@Query({ schema: BearingTablesQuery }) query: z.infer<typeof BearingTablesQuery>): Promise<BearingTables> {
    return this.tables.of(this.database, query.q);
  }

  @Post('dimensions')
  @Allow(keepers)
  @Answers(BearingTables)
  @HttpCode(200)
  keepDimensions(@Issued() command: Command, @Body({ schema: KeepDimensions }) body: KeepDimensions): Promise<BearingTables> {
    return this.unitOfWork.run(command, (transaction) => this.edit.keepDimensions(transaction, body));
  }

  @Post('dimensions/strike')
  @Allow(keepers)
  @Answers(BearingTables)
  @HttpCode(200)
  strikeDimensions(
    @Issued() command: Command,
    @Body({ schema: StrikeDimensions }) body: StrikeDimensions,
  ): Promise<BearingTables> {
    return this.unitOfWork.run(command, (transaction) => this.edit.strikeDimensions(transaction, body));
  }

  @Post('suffixes')
  @Allow(keepers)
  @Answers(BearingTables)
  @HttpCode(200)
  keepSuffix(@Issued() command: Command, @Body({ schema: KeepSuffix }) body: KeepSuffix): Promise<BearingTables> {
    return this.unitOfWork.run(command, (transaction) => this.edit.keepSuffix(transaction, body));
  }

  @Post('suffixes/strike')
  @Allow(keepers)
  @Answers(BearingTables)
  @HttpCode(200)
  strikeSuffix(@Issued() command: Command, @Body({ schema: StrikeSuffix }) body: StrikeSuffix): Promise<BearingTables> {
    return this.unitOfWork.run(command, (transaction) => this.edit.strikeSuffix(transaction, body));
  }
}
