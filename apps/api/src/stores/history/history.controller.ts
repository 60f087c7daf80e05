import { IdParam } from '@corewright/contracts/base';
import { HistoryPage, HistoryQuery } from '@corewright/contracts/history';
import { Controller, Get, Param, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers, Person, type SignedIn } from '../../platform/access/signed-in.js';
import { Answers } from '../../platform/http/answers.js';
import { NextPageLink } from '../../platform/http/next-page.js';
import { History } from './history.js';

type IdOfPath = z.infer<typeof IdParam>;

@Controller()
export class HistoryController {
  constructor(private readonly history: History) {}

  @Get('things/:id/history')
  @Allow(everyone)
  @Answers(HistoryPage)
  @UseInterceptors(NextPageLink)
  ofThing(
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) { id }: IdOfPath,
    @Query({ schema: HistoryQuery }) query: HistoryQuery,
  ): Promise<HistoryPage> {
    return this.history.page({ of: 'thing', id, isKeeper: keepers.includes(person.role) }, query);
  }

  @Get('parts/:id/history')
  @Allow(everyone)
  @Answers(HistoryPage)
  @UseInterceptors(NextPageLink)
  ofPart(
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) { id }: IdOfPath,
    @Query({ schema: HistoryQuery }) query: HistoryQuery,
  ): Promise<HistoryPage> {
    return this.history.page({ of: 'part', id, isKeeper: keepers.includes(person.role) }, query);
  }

  @Get('places/:id/history')
  @Allow(everyone)
  @Answers(HistoryPage)
  @UseInterceptors(NextPageLink)
  ofPlace(
    @Person() person: SignedIn,
    @Param({ schema: IdParam }) { id }: IdOfPath,
    @Query({ schema: HistoryQuery }) query: HistoryQuery,
  ): Promise<HistoryPage> {
    return this.history.page({ of: 'place', id, isKeeper: keepers.includes(person.role) }, query);
  }
}
