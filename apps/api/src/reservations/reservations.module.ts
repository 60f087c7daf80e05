import { Module, type OnModuleInit } from '@nestjs/common';
import { HistoryRegistry } from '../stores/history/history-registry.js';
import { reservationHistory } from './claim-history.js';
import { ExpireReservations } from './expire/expire-reservations.js';
import { ReleaseHandler } from './release/release.handler.js';
import { ReservationsController } from './reservations.controller.js';
import { ReserveHandler } from './reserve/reserve.handler.js';
import { TakeHandler } from './take/take.handler.js';

/** What jobs have reserved of things and of what is on order: made, given up, taken from one another, and ended by the clock. */
@Module({
  controllers: [ReservationsController],
  providers: [ReserveHandler, ReleaseHandler, TakeHandler, ExpireReservations],
})
export class ReservationsModule implements OnModuleInit {
  constructor(private readonly history: HistoryRegistry) {}

  onModuleInit(): void {
    this.history.register(reservationHistory);
  }
}
