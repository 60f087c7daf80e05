import type { Coded, Named } from '@corewright/contracts/base';
import type { CostPart } from '@corewright/contracts/costs';
import { Injectable } from '@nestjs/common';
import type { Reader } from '../platform/database/database.js';

type Source<Name> = (reader: Reader, ids: readonly string[]) => Promise<ReadonlyMap<string, Name>>;

/**
 * Names for what stores knows by its id alone. Areas that come after it register where the names are found; several may, for
 * a claimant need not be a job.
 */
export abstract class LaterNames<Name> {
  private readonly sources: Source<Name>[] = [];

  register(source: Source<Name>): void {
    this.sources.push(source);
  }

  async namesOf(reader: Reader, ids: readonly string[]): Promise<ReadonlyMap<string, Name>> {
    const names = new Map<string, Name>();
    if (ids.length === 0) return names;
    for (const source of this.sources) for (const [id, name] of await source(reader, ids)) names.set(id, name);
    return names;
  }

  async nameOf(reader: Reader, id: string): Promise<Name | null> {
    return (await this.namesOf(reader, [id])).get(id) ?? null;
  }
}

/** What a claimant is called: by its id. Its code is in the register of codes. */
@Injectable()
export class ClaimantNames extends LaterNames<string> {}

/** The load that a thing came with: by the thing's id. */
@Injectable()
export class LoadNames extends LaterNames<Named> {}

/** The parts of a load's cost that nobody knows: by the load's id. */
@Injectable()
export class CostGaps extends LaterNames<readonly CostPart[]> {}

/** The open job on a unit: by the unit's id. */
@Injectable()
export class UnitJobs extends LaterNames<Coded> {}
