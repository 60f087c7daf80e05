import { ToReserve } from '@corewright/contracts/to-reserve';
import { Controller, Get } from '@nestjs/common';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { withWhereabouts } from '../whereabouts.js';
import { WorkshopCover } from '../workshop-cover.js';
import { linesToReserve, toReserve } from './to-reserve.js';

@Controller('coverage')
export class ToReserveController {
  constructor(
    private readonly database: Database,
    private readonly cover: WorkshopCover,
  ) {}

  /** Over all open jobs: what each could reserve as things are shared out now. */
  @Get('to-reserve')
  @Allow(everyone)
  @Answers(ToReserve)
  async suggested(): Promise<ToReserve> {
    const cover = await this.cover.ofAll(this.database);
    return toReserve(cover, await withWhereabouts(this.database, linesToReserve(cover)));
  }
}
