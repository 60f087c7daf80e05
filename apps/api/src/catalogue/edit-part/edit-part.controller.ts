import { IdParam } from '@corewright/contracts/base';
import { AddPart, AddPartNumber, EditPart, PartChanged } from '@corewright/contracts/catalogue';
import { Body, Controller, HttpCode, Param, Patch, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Answers } from '../../platform/http/answers.js';
import { EditPartHandler } from './edit-part.handler.js';

type Changed = z.infer<typeof PartChanged>;

@Controller('parts')
export class EditPartController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly handler: EditPartHandler,
  ) {}

  @Post()
  @HttpCode(200)
  @Allow(keepers)
  @Answers(PartChanged)
  add(@Issued() command: Command, @Body({ schema: AddPart }) body: AddPart): Promise<Changed> {
    return this.unitOfWork.run(command, (transaction) => this.handler.add(transaction, body));
  }

  @Patch(':id')
  @Allow(keepers)
  @Answers(PartChanged)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: EditPart }) body: EditPart,
  ): Promise<Changed> {
    return this.unitOfWork.run(command, (transaction) => this.handler.edit(transaction, param.id, body));
  }

  @Post(':id/numbers')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(PartChanged)
  addNumber(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: AddPartNumber }) body: AddPartNumber,
  ): Promise<Changed> {
    return this.unitOfWork.run(command, (transaction) => this.handler.addNumber(transaction, param.id, body));
  }
}
