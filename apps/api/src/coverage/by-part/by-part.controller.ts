import { ByPart } from '@corewright/contracts/by-part';
import { Controller, Get } from '@nestjs/common';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { coverOfJobs } from '../cover-lines.js';
import { WorkshopCover } from '../workshop-cover.js';
import { boardOf } from './board-of.js';

@Controller('coverage')
export class ByPartController {
  constructor(
    private readonly database: Database,
    private readonly cover: WorkshopCover,
  ) {}

  /** Over all open jobs: the parts that are lacking or that jobs stand in each other's way for, and who has them. */
  @Get('by-part')
  @Allow(everyone)
  @Answers(ByPart)
  async byPart(): Promise<ByPart> {
    const shared = await this.cover.sharedOut(this.database);
    return boardOf(shared, coverOfJobs(shared));
  }
}
