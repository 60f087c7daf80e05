import { Me, SetUp, Workshop } from '@corewright/contracts/people';
import { Body, Controller, Get, HttpCode, Post, Req, Res } from '@nestjs/common';
import type { Request, Response } from 'express';
import type * as z from 'zod';
import { Public } from '../../platform/access/signed-in.js';
import { Config } from '../../platform/config/config.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { addressOf } from '../address.js';
import { setSessionCookie } from '../session-cookie.js';
import { readWorkshop, WorkshopClock } from '../workshop.js';
import { SetUpHandler } from './set-up.handler.js';

const beforeSetUp = { name: '', timeZone: 'UTC', locale: 'en-GB', currency: 'GBP', isExample: false };

@Controller()
export class WorkshopController {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
    private readonly handler: SetUpHandler,
    private readonly config: Config,
  ) {}

  @Get('workshop')
  @Public()
  @Answers(Workshop)
  async workshop(): Promise<Workshop> {
    const row = await readWorkshop(this.database);
    return { ...(row ?? beforeSetUp), needsSetUp: row === null, today: await this.clock.today() };
  }

  @Post('set-up')
  @Public()
  @Answers(Me)
  @HttpCode(200)
  async setUp(
    @Body({ schema: SetUp }) body: z.infer<typeof SetUp>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<Me> {
    const admitted = await this.handler.setUp(body, addressOf(request));
    setSessionCookie(response, this.config, admitted.token);
    return admitted.me;
  }
}
