import { WhatIf, WhatIfQuery } from '@corewright/contracts/what-if';
import { Controller, Get, Query } from '@nestjs/common';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { WhatIfAnswer } from './what-if.service.js';

@Controller('what-if')
export class WhatIfController {
  constructor(private readonly answer: WhatIfAnswer) {}

  /** What would be different for every open job if something were so; nothing is written. */
  @Get()
  @Allow(everyone)
  @Answers(WhatIf)
  ask(@Query({ schema: WhatIfQuery }) query: WhatIfQuery): Promise<WhatIf> {
    return this.answer.of(query.suppose);
  }
}
