import { Health } from '@corewright/contracts/events';
import { Controller, Get, Res } from '@nestjs/common';
import type { Response } from 'express';
import type * as z from 'zod';
import { Public } from '../access/signed-in.js';
import { Config } from '../config/config.js';
import { Database } from '../database/database.js';
import { Answers } from '../http/answers.js';

@Controller('health')
export class HealthController {
  constructor(
    private readonly database: Database,
    private readonly config: Config,
  ) {}

  @Get()
  @Public()
  @Answers(Health)
  async health(@Res({ passthrough: true }) response: Response): Promise<z.infer<typeof Health>> {
    const answers = await this.database.row('SELECT 1 AS one').then(
      () => true,
      () => false,
    );
    if (!answers) response.status(503);
    return { status: answers ? 'well' : 'ill', database: answers ? 'answers' : 'silent', version: this.config.version };
  }
}
