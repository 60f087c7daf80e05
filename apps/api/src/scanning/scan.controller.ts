import { ScanAnswer, ScanParam } from '@corewright/contracts/scanning';
import { Controller, Get, Param } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../platform/access/signed-in.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { RefusalError } from '../platform/refusal.js';
import { readCode, whyNothingOpens } from './resolve-code.js';
import { ScanRegistry } from './scan-registry.js';

@Controller('scan')
export class ScanController {
  constructor(
    private readonly registry: ScanRegistry,
    private readonly database: Database,
  ) {}

  /** What a code is on, with what the screen needs. */
  @Get(':code')
  @Allow(everyone)
  @Answers(ScanAnswer)
  async scan(@Param({ schema: ScanParam }) param: z.infer<typeof ScanParam>): Promise<ScanAnswer> {
    const read = readCode(param.code);
    if (!read.ok) throw new RefusalError(read.error);
    const answer = await this.registry.openerOf(read.value.kind)?.(this.database, read.value.code);
    if (!answer) throw new RefusalError(await whyNothingOpens(this.database, read.value));
    return answer;
  }
}
