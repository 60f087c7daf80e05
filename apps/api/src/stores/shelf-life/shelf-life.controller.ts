import { ShelfLife, ShelfLifeQuery } from '@corewright/contracts/shelf-life';
import { Controller, Get, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { ShelfLives } from './shelf-life.js';

@Controller('shelf-life')
export class ShelfLifeController {
  constructor(private readonly shelfLives: ShelfLives) {}

  @Get()
  @Allow(everyone)
  @Answers(ShelfLife)
  onDay(@Query({ schema: ShelfLifeQuery }) query: z.infer<typeof ShelfLifeQuery>): Promise<ShelfLife> {
    return this.shelfLives.on(query.on);
  }
}
