import { Buildable, BuildableQuery } from '@corewright/contracts/buildable';
import { Controller, Get, Query } from '@nestjs/common';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { BuildableAnswer } from './buildable.service.js';

@Controller('buildable')
export class BuildableController {
  constructor(private readonly answer: BuildableAnswer) {}

  /** The most rebuilds that the stock allows, of several types that compete for it, and what stops the next one of each. */
  @Get()
  @Allow(everyone)
  @Answers(Buildable)
  buildable(@Query({ schema: BuildableQuery }) query: BuildableQuery): Promise<Buildable> {
    return this.answer.of(query);
  }
}
