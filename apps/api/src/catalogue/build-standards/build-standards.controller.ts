import { IdParam } from '@corewright/contracts/base';
import { BuildStandardList, BuildStandardRules, EditBuildStandard } from '@corewright/contracts/build-standards';
import { Body, Controller, Get, Param, Patch } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { buildStandards, standardShown } from './build-standard.queries.js';
import { EditBuildStandardHandler } from './edit-build-standard.handler.js';

@Controller('build-standards')
export class BuildStandardsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly editing: EditBuildStandardHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(BuildStandardList)
  async list(): Promise<z.infer<typeof BuildStandardList>> {
    return { standards: (await buildStandards(this.database)).map(standardShown) };
  }

  @Patch(':id')
  @Allow(keepers)
  @Answers(BuildStandardRules)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: EditBuildStandard }) body: EditBuildStandard,
  ): Promise<BuildStandardRules> {
    return this.unitOfWork.run(command, (transaction) => this.editing.handle(transaction, param.id, body));
  }
}
