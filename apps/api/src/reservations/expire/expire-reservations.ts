import { Injectable, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import { lockOrdersOf } from '../../buying/expected-claims.js';
import { giveBack } from '../../jobs/give-back.js';
import { WorkshopClock } from '../../people/workshop.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Log } from '../../platform/log.js';

/** How often it is asked whether another day has begun. */
const lookMilliseconds = 60_000;

const lockJob = 'SELECT 1 AS there FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const selectJobs = `
  SELECT claimant_id AS id FROM claims WHERE until < $1 AND quantity > 0
  UNION SELECT claimant_id FROM expected_claims WHERE until < $1 AND quantity > 0`;

/** Ends the reservations whose day has passed: when the server starts, and each time that the workshop's day changes. */
@Injectable()
export class ExpireReservations implements OnApplicationBootstrap, OnModuleDestroy {
  private looking: NodeJS.Timeout | null = null;
  private endedOn: string | null = null;
  private underWay: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly unitOfWork: UnitOfWork,
    private readonly database: Database,
    private readonly clock: WorkshopClock,
    private readonly log: Log,
  ) {}

  async onApplicationBootstrap(): Promise<void> {
    await this.lookAtTheClock();
    this.looking = setInterval(() => {
      this.underWay = this.lookAtTheClock();
    }, lookMilliseconds);
    this.looking.unref();
  }

  async onModuleDestroy(): Promise<void> {
    if (this.looking !== null) clearInterval(this.looking);
    await this.underWay;
  }

  /** Ends what held until a day before this one and does not lie in a tray. @returns how many reservations ended */
  async endBefore(day: string): Promise<number> {
    let ended = 0;
    for (const { id } of await this.database.rows<{ id: string }>(selectJobs, [day]))
      ended += await this.unitOfWork.byTheClock(async (transaction) => {
        await lockOrdersOf(transaction, id);
        await transaction.row(lockJob, [id]);
        return giveBack(transaction, id, { kind: 'expired', reason: '', before: day });
      });
    return ended;
  }

  /** The day counts as seen to when all has ended; where that fails it is tried again at the next look. */
  private async lookAtTheClock(): Promise<void> {
    try {
      const today = await this.clock.today();
      if (today === this.endedOn) return;
      const ended = await this.endBefore(today);
      this.endedOn = today;
      if (ended > 0) this.log.info({ ended }, 'reservations came to their end');
    } catch (error) {
      this.log.warn({ error: String(error) }, 'reservations could not be ended; they will be');
    }
  }
}
