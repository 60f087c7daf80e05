import { IdParam } from '@corewright/contracts/base';
import {
  Released,
  ReleaseReservation,
  ReservationList,
  Reserve,
  Reserved,
  Taken,
  TakeReservation,
} from '@corewright/contracts/reservations';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import { WorkshopClock } from '../people/workshop.js';
import { Allow, everyone, hands, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { listReservations } from './list-reservations.js';
import { ReleaseHandler } from './release/release.handler.js';
import { ReserveHandler } from './reserve/reserve.handler.js';
import { TakeHandler } from './take/take.handler.js';

const isJob = 'SELECT 1 AS there FROM jobs WHERE id = $1';

@Controller()
export class ReservationsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly clock: WorkshopClock,
    private readonly reserving: ReserveHandler,
    private readonly releasing: ReleaseHandler,
    private readonly taking: TakeHandler,
  ) {}

  @Get('jobs/:id/reservations')
  @Allow(everyone)
  @Answers(ReservationList)
  async ofJob(@Param({ schema: IdParam }) { id }: { id: string }): Promise<ReservationList> {
    if (!(await this.database.row(isJob, [id]))) throw new RefusalError(notFound('This job'));
    return { jobId: id, reservations: await listReservations(this.database, id, await this.clock.today()) };
  }

  @Post('jobs/:id/reservations')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Reserved)
  reserve(
    @Issued() command: Command,
    @Param({ schema: IdParam }) { id }: { id: string },
    @Body({ schema: Reserve }) body: Reserve,
  ): Promise<Reserved> {
    return this.unitOfWork.runAtOnce(command, (transaction) => this.reserving.handle(transaction, id, body));
  }

  @Post('reservations/release')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Released)
  release(@Issued() command: Command, @Body({ schema: ReleaseReservation }) body: ReleaseReservation): Promise<Released> {
    return this.unitOfWork.run(command, (transaction) => this.releasing.handle(transaction, body));
  }

  @Post('reservations/take')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(Taken)
  take(@Issued() command: Command, @Body({ schema: TakeReservation }) body: TakeReservation): Promise<Taken> {
    return this.unitOfWork.run(command, (transaction) => this.taking.handle(transaction, body));
  }
}
