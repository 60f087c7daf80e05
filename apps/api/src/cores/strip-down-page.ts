import type { StripDown, StripDownOfUnit } from '@corewright/contracts/cores';
import { Injectable } from '@nestjs/common';
import { Database } from '../platform/database/database.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { ClaimantNames, UnitJobs } from '../stores/later-names.js';
import { whyNotBegun } from './begin-strip-down/decide-begin.js';
import { unitToStrip } from './begin-strip-down/unit-to-strip.js';
import { linksOfUnit } from './replace-casing/unit-link.queries.js';
import { latestStripDown, stripDownShown } from './strip-down.queries.js';

/** What the bench and a unit's page show of its strip-down. */
@Injectable()
export class StripDownPage {
  constructor(
    private readonly database: Database,
    private readonly jobs: UnitJobs,
    private readonly claimants: ClaimantNames,
  ) {}

  /** @throws RefusalError for what is not in the books */
  async one(id: string): Promise<StripDown> {
    const shown = await stripDownShown(this.database, id, this.names);
    if (shown === null) throw new RefusalError(notFound('This strip-down'));
    return shown;
  }

  /** @throws RefusalError for what is no unit */
  async ofUnit(unitId: string): Promise<StripDownOfUnit> {
    const unit = await unitToStrip(this.database, unitId, null, this.names);
    if (unit === null) throw new RefusalError(notFound('That unit'));
    const [latest, links] = await Promise.all([latestStripDown(this.database, unitId), linksOfUnit(this.database, unitId)]);
    const stripDown = latest === null ? null : await stripDownShown(this.database, latest, this.names);
    return { stripDown, cannotBegin: whyNotBegun(unit)?.detail ?? null, links };
  }

  private get names() {
    return { jobs: this.jobs, claimants: this.claimants };
  }
}
