import { CoreWorths } from '@corewright/contracts/core-ages';
import { Controller, Get } from '@nestjs/common';
import { Allow, keepers } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { CoreWorthsAnswer } from './core-worths.js';

@Controller('core-worths')
export class CoreWorthsController {
  constructor(private readonly answer: CoreWorthsAnswer) {}

  /** What cores are worth whole and for what jobs lack; for those who keep the books. */
  @Get()
  @Allow(keepers)
  @Answers(CoreWorths)
  worths(): Promise<CoreWorths> {
    return this.answer.all();
  }
}
