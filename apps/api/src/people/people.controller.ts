import { Empty, IdParam } from '@corewright/contracts/base';
import { AddPerson, EditPerson, OneTimeLink, People, Person } from '@corewright/contracts/people';
import { Body, Controller, Get, HttpCode, Param, Patch, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, owners } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { AddPersonHandler } from './add-person/add-person.handler.js';
import { EditPersonHandler } from './edit-person/edit-person.handler.js';
import { MakeLinkHandler } from './make-link/make-link.handler.js';
import { listPeople } from './people.queries.js';

@Controller('people')
@Allow(owners)
export class PeopleController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly addPerson: AddPersonHandler,
    private readonly editPerson: EditPersonHandler,
    private readonly makeLink: MakeLinkHandler,
  ) {}

  @Get()
  @Answers(People)
  async list(): Promise<z.infer<typeof People>> {
    return { people: await listPeople(this.database) };
  }

  @Post()
  @Answers(Person)
  @HttpCode(200)
  add(@Issued() command: Command, @Body({ schema: AddPerson }) body: z.infer<typeof AddPerson>): Promise<Person> {
    return this.unitOfWork.run(command, (transaction) => this.addPerson.handle(transaction, body));
  }

  @Patch(':id')
  @Answers(Person)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: z.infer<typeof IdParam>,
    @Body({ schema: EditPerson }) body: z.infer<typeof EditPerson>,
  ): Promise<Person> {
    return this.unitOfWork.run(command, (transaction) => this.editPerson.handle(transaction, id, body));
  }

  @Post(':id/pass-phrase-link')
  @Answers(OneTimeLink)
  @HttpCode(200)
  link(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: z.infer<typeof IdParam>,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
  ): Promise<z.infer<typeof OneTimeLink>> {
    return this.makeLink.handle(command, id);
  }
}
