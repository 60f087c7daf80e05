import type { Act, JobScanDone, TakeBack, TakenBack } from '@corewright/contracts/bench';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { invariant, type Result } from '../platform/refusal.js';
import type { JobForScan, ScannedThing } from './scan-facts.js';
import type { JobScanInput, ScanMode } from './scan-state.js';

/** A scan of a consumable onto a job, which is locked. */
export interface ScanOfConsumable {
  mode: ScanMode;
  input: JobScanInput;
  thing: ScannedThing & { partId: string };
  job: JobForScan;
}

/** What the area of consumables does at the bench. */
export interface ConsumablesAtBench {
  use(transaction: Transaction, scan: ScanOfConsumable): Promise<Result<z.infer<typeof JobScanDone>>>;
  /** Null where the act is no use of a consumable. */
  takeBack(
    transaction: Transaction,
    actId: string,
    input: z.infer<typeof TakeBack>,
  ): Promise<Result<z.infer<typeof TakenBack>> | null>;
  /** The last ten uses on a job, newest first. */
  actsAt(reader: Reader, jobId: string): Promise<Act[]>;
}

/** A scan of a consumable moves nothing: it charges a use. The bench does not know how; the area that does registers here. */
@Injectable()
export class UsesAtBench {
  private consumables: ConsumablesAtBench | null = null;

  register(consumables: ConsumablesAtBench): void {
    this.consumables = consumables;
  }

  use(transaction: Transaction, scan: ScanOfConsumable): Promise<Result<z.infer<typeof JobScanDone>>> {
    invariant(this.consumables, 'a part that is a consumable has an area that knows what one is');
    return this.consumables.use(transaction, scan);
  }

  async takeBack(
    transaction: Transaction,
    actId: string,
    input: z.infer<typeof TakeBack>,
  ): Promise<Result<z.infer<typeof TakenBack>> | null> {
    return (await this.consumables?.takeBack(transaction, actId, input)) ?? null;
  }

  async actsAt(reader: Reader, jobId: string): Promise<Act[]> {
    return (await this.consumables?.actsAt(reader, jobId)) ?? [];
  }
}
