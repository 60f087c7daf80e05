import { IdParam } from '@corewright/contracts/base';
import { EditTypeComponent, TypeComponent, TypeComponentList, TypeComponentParam } from '@corewright/contracts/cores';
import { Body, Controller, Get, Param, Patch } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { editTypeComponent } from './edit-type-component.js';
import { typeComponents } from './type-component.queries.js';

@Controller('unit-types/:id/components')
export class TypeComponentsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(TypeComponentList)
  async list(@Param({ schema: IdParam }) param: { id: string }): Promise<z.infer<typeof TypeComponentList>> {
    return { components: await typeComponents(this.database, param.id) };
  }

  @Patch(':position')
  @Allow(keepers)
  @Answers(TypeComponent)
  edit(
    @Issued() command: Command,
    @Param({ schema: TypeComponentParam }) param: z.infer<typeof TypeComponentParam>,
    @Body({ schema: EditTypeComponent }) body: EditTypeComponent,
  ): Promise<TypeComponent> {
    return this.unitOfWork.run(command, (transaction) => editTypeComponent(transaction, param.id, param.position, body));
  }
}
