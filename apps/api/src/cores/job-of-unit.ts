import type { Decimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../platform/commands/unit-of-work.js';

/** The open job that a unit is being rebuilt on. */
export interface JobOfUnit {
  id: string;
  code: string;
  name: string;
  trayId: string;
}

/** A line of that job that asks for a part. */
export interface LineOfPart {
  id: string;
  lineNo: number;
  /** false: the parts list says that it is always replaced */
  reusable: boolean;
}

/** How many of a part of this unit may be used again in it, and how many not. */
export interface PartSeen {
  partId: string;
  reused: Decimal;
  gone: Decimal;
  words: string;
}

/** So many of what was fitted on a job are out of its unit again, as a lot of their own. */
export interface FittingEnded {
  fittingId: string;
  quantity: string;
  movementId: string;
  newLotId: string;
  why: string;
}

/** What a strip-down asks of jobs and tells them. */
export interface JobsOfUnits {
  /** Locks the open job on a unit; null where there is none. */
  lock(transaction: Transaction, unitId: string): Promise<JobOfUnit | null>;
  lineOf(transaction: Transaction, jobId: string, partId: string): Promise<LineOfPart | null>;
  /** Puts on the record of its line what was seen; says of which line. */
  tell(transaction: Transaction, jobId: string, seen: PartSeen): Promise<LineOfPart | null>;
  /** Puts on the record of its job that something is fitted no longer. */
  end(transaction: Transaction, ended: FittingEnded): Promise<void>;
}

/** Jobs come after cores: they register here. Without them no unit has a job. */
@Injectable()
export class JobOfUnitRegister implements JobsOfUnits {
  private jobs: JobsOfUnits | null = null;

  register(jobs: JobsOfUnits): void {
    this.jobs = jobs;
  }

  async lock(transaction: Transaction, unitId: string): Promise<JobOfUnit | null> {
    return (await this.jobs?.lock(transaction, unitId)) ?? null;
  }

  async lineOf(transaction: Transaction, jobId: string, partId: string): Promise<LineOfPart | null> {
    return (await this.jobs?.lineOf(transaction, jobId, partId)) ?? null;
  }

  async tell(transaction: Transaction, jobId: string, seen: PartSeen): Promise<LineOfPart | null> {
    return (await this.jobs?.tell(transaction, jobId, seen)) ?? null;
  }

  async end(transaction: Transaction, ended: FittingEnded): Promise<void> {
    await this.jobs?.end(transaction, ended);
  }
}
