import { YieldChoices, Yields, YieldsQuery } from '@corewright/contracts/yields';
import { Controller, Get, Query } from '@nestjs/common';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { YieldAnswer } from './yield-answer.js';

@Controller()
export class YieldsController {
  constructor(private readonly answer: YieldAnswer) {}

  /** How often each component was serviceable, of what somebody looked at; worst first. */
  @Get('yields')
  @Allow(everyone)
  @Answers(Yields)
  yields(@Query({ schema: YieldsQuery }) query: YieldsQuery): Promise<Yields> {
    return this.answer.of(query);
  }

  @Get('yield-choices')
  @Allow(everyone)
  @Answers(YieldChoices)
  choices(): Promise<YieldChoices> {
    return this.answer.choices();
  }
}
