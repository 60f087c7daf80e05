import { IdParam } from '@corewright/contracts/base';
import { EditGrade, Grade, GradeList } from '@corewright/contracts/catalogue';
import { Body, Controller, Get, Param, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { EditGradeHandler } from './edit-grade.handler.js';
import { allGrades } from './grade.queries.js';

@Controller('grades')
export class GradesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly editGrade: EditGradeHandler,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(GradeList)
  async list(): Promise<z.infer<typeof GradeList>> {
    return { grades: await allGrades(this.database) };
  }

  @Put(':id')
  @Allow(keepers)
  @Answers(Grade)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: EditGrade }) body: EditGrade,
  ): Promise<Grade> {
    return this.unitOfWork.run(command, (transaction) => this.editGrade.handle(transaction, param.id, body));
  }
}
