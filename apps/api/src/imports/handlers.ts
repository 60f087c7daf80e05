import { Injectable } from '@nestjs/common';
import { JobScanHandler } from '../bench/job-scan.handler.js';
import { AddReceiptHandler } from '../buying/add-receipt/add-receipt.handler.js';
import { KeepConsumableHandler } from '../consumables/settings/keep-consumable.handler.js';
import { ShareCostHandler } from '../goods-in/costs/share-cost.handler.js';
import { OpenJobHandler } from '../jobs/open-job/open-job.handler.js';
import { AddPersonHandler } from '../people/add-person/add-person.handler.js';
import { CalendarHandler } from '../planning/calendar.handler.js';
import { AddFirmHandler } from '../stores/add-firm/add-firm.handler.js';
import { AddPlaceHandler } from '../stores/add-place/add-place.handler.js';
import { ClosePlaceHandler } from '../stores/arrange-places/arrange-places.handlers.js';
import { ChangeHoldHandler } from '../stores/change-hold/change-hold.handler.js';

/** The handlers of the screens: what comes in by a file goes through the same rules as what is keyed. */
@Injectable()
export class Handlers {
  constructor(
    readonly people: AddPersonHandler,
    readonly firms: AddFirmHandler,
    readonly places: AddPlaceHandler,
    readonly calendar: CalendarHandler,
    readonly jobs: OpenJobHandler,
    readonly scans: JobScanHandler,
    readonly receipts: AddReceiptHandler,
    readonly costs: ShareCostHandler,
    readonly closings: ClosePlaceHandler,
    readonly holds: ChangeHoldHandler,
    readonly consumables: KeepConsumableHandler,
  ) {}
}
