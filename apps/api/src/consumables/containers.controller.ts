import { IdParam } from '@corewright/contracts/base';
import {
  ContainerFound,
  ContainerOpened,
  ContainerPage,
  EndContainer,
  NotOpened,
  OpenContainer,
  ReadUseBy,
} from '@corewright/contracts/consumables';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { WorkshopClock } from '../people/workshop.js';
import { Allow, everyone, hands, keepers, Person, type SignedIn } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { type Transaction, UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { done, type Result } from '../platform/refusal.js';
import { ConsumablePages } from './consumable-pages.js';
import { endContainer, foundContainer, notOpenedAfterAll } from './containers/end-container.js';
import { lockConsumableOfLot, openContainer } from './containers/open-container.js';
import { readUseBy } from './containers/read-use-by.js';

type IdOfPath = z.infer<typeof IdParam>;

/** A lot as containers of a consumable: opened, empty, thrown away, found again, and what its packet says. */
@Controller('things')
export class ContainersController {
  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly database: Database,
    private readonly pages: ConsumablePages,
    private readonly clock: WorkshopClock,
  ) {}

  @Get(':id/container')
  @Allow(everyone)
  @Answers(ContainerPage)
  page(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<ContainerPage> {
    return this.pages.ofLot(this.database, param.id, keepers.includes(person.role));
  }

  @Post(':id/use-by')
  @Allow(hands)
  @Answers(ContainerPage)
  @HttpCode(200)
  useBy(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ReadUseBy }) body: z.infer<typeof ReadUseBy>,
  ): Promise<ContainerPage> {
    return this.changed(command, person, param.id, (transaction) => readUseBy(transaction, param.id, body.useBy));
  }

  @Post(':id/opening')
  @Allow(hands)
  @Answers(ContainerOpened)
  @HttpCode(200)
  open(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: OpenContainer }) body: OpenContainer,
  ): Promise<ContainerOpened> {
    return this.unitOfWork.run(command, async (transaction) => {
      const consumable = await lockConsumableOfLot(transaction, param.id);
      if (!consumable.ok) return consumable;
      const today = await this.clock.today(transaction);
      return openContainer(transaction, consumable.value, { ...body, thingId: param.id, today });
    });
  }

  @Post(':id/container-end')
  @Allow(hands)
  @Answers(ContainerPage)
  @HttpCode(200)
  end(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EndContainer }) body: EndContainer,
  ): Promise<ContainerPage> {
    return this.changed(command, person, param.id, (transaction) => endContainer(transaction, param.id, body));
  }

  @Post(':id/not-opened')
  @Allow(hands)
  @Answers(ContainerPage)
  @HttpCode(200)
  notOpened(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: NotOpened }) body: z.infer<typeof NotOpened>,
  ): Promise<ContainerPage> {
    return this.changed(command, person, param.id, (transaction) => notOpenedAfterAll(transaction, param.id, body.why));
  }

  @Post(':id/container-found')
  @Allow(hands)
  @Answers(ContainerPage)
  @HttpCode(200)
  found(
    @Issued() command: Command,
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ContainerFound }) body: ContainerFound,
  ): Promise<ContainerPage> {
    return this.changed(command, person, param.id, (transaction) => foundContainer(transaction, param.id, body));
  }

  private changed(
    command: Command,
    person: SignedIn,
    thingId: string,
    work: (transaction: Transaction) => Promise<Result<{ id: string }>>,
  ): Promise<ContainerPage> {
    return this.unitOfWork.run(command, async (transaction) => {
      const changed = await work(transaction);
      return changed.ok ? done(await this.pages.ofLot(transaction, thingId, keepers.includes(person.role))) : changed;
    });
  }
}
