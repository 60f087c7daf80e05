import { SearchQuery } from '@corewright/contracts/catalogue';
import { SearchAnswer } from '@corewright/contracts/stores';
import { Controller, Get, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { NextPageLink } from '../../platform/http/next-page.js';
import { Search } from './search.js';

@Controller('search')
export class SearchController {
  constructor(private readonly search: Search) {}

  @Get()
  @Allow(everyone)
  @Answers(SearchAnswer)
  @UseInterceptors(NextPageLink)
  find(@Query({ schema: SearchQuery }) query: z.infer<typeof SearchQuery>): Promise<z.infer<typeof SearchAnswer>> {
    return this.search.hitsFor(query.q, query.limit, query.cursor);
  }
}
