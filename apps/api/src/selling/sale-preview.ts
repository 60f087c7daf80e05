import type { SalePreview, SalePreviewLine, SalePreviewQuery } from '@corewright/contracts/selling';
import { formatDecimal } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import { oursOf, WorkshopClock } from '../people/workshop.js';
import { Database } from '../platform/database/database.js';
import { jobsWorseOff } from './cover-loss.js';
import { decideSale, type SaleLinePlan, takenFromJobs } from './decide-sale.js';
import { goodsToSell } from './goods-to-sell.js';

/** What a sale would do, before anybody presses it. */
@Injectable()
export class SalePreviews {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
  ) {}

  /** What is not in the books is left out. */
  async of({ lines }: SalePreviewQuery): Promise<SalePreview> {
    const now = await this.clock.moment(this.database);
    const ids = [...new Set(lines.map(({ thingId }) => thingId))];
    const goods = await goodsToSell(this.database, ids, false);
    const plans = decideSale(lines, goods, now.date);
    const [currency, jobs] = await Promise.all([oursOf(this.database), jobsWorseOff(this.database, now, plans)]);
    return { currency, lines: plans.map(shown), jobs };
  }
}

function shown({ goods, quantity, here, free, stops, takes }: SaleLinePlan): SalePreviewLine {
  const { thing, holdings, boundWith } = goods;
  return {
    thing: { id: thing.id, code: thing.code, name: thing.name },
    unitOfMeasure: thing.unitOfMeasure,
    quantity: formatDecimal(quantity),
    here: formatDecimal(here),
    free: formatDecimal(free),
    where: holdings
      .filter(({ holderKind }) => holderKind === 'place')
      .map(({ words }) => words)
      .join('; '),
    stops: [...stops],
    takes: takenFromJobs(takes),
    goesWith: [...boundWith],
  };
}
