import { IdParam } from '@corewright/contracts/base';
import { PlacePage } from '@corewright/contracts/places';
import {
  AddFirm,
  AddPlace,
  FirmBrief,
  FirmList,
  PlaceBrief,
  PlaceList,
  PlacesQuery,
  WordsQuery,
} from '@corewright/contracts/stores';
import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { AddFirmHandler } from './add-firm/add-firm.handler.js';
import { AddPlaceHandler } from './add-place/add-place.handler.js';
import { firmsLike } from './firm.queries.js';
import { placesLike } from './place.queries.js';
import { placePage } from './place-page.queries.js';

@Controller()
export class PlacesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly addPlace: AddPlaceHandler,
    private readonly addFirm: AddFirmHandler,
  ) {}

  @Get('places')
  @Allow(everyone)
  @Answers(PlaceList)
  places(@Query({ schema: PlacesQuery }) query: z.infer<typeof PlacesQuery>): Promise<PlaceList> {
    return placesLike(this.database, query);
  }

  @Post('places')
  @Allow(keepers)
  @Answers(PlaceBrief)
  @HttpCode(200)
  add(@Issued() command: Command, @Body({ schema: AddPlace }) body: z.infer<typeof AddPlace>): Promise<PlaceBrief> {
    return this.unitOfWork.run(command, (transaction) => this.addPlace.handle(transaction, body));
  }

  @Get('places/:id')
  @Allow(everyone)
  @Answers(PlacePage)
  async place(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<PlacePage> {
    const place = await placePage(this.database, param.id);
    if (place === null) throw new RefusalError(notFound('That place'));
    return place;
  }

  @Get('firms')
  @Allow(everyone)
  @Answers(FirmList)
  async firms(@Query({ schema: WordsQuery }) query: z.infer<typeof WordsQuery>): Promise<z.infer<typeof FirmList>> {
    return { firms: await firmsLike(this.database, query.q) };
  }

  @Post('firms')
  @Allow(keepers)
  @Answers(FirmBrief)
  @HttpCode(200)
  addAFirm(
    @Issued() command: Command,
    @Body({ schema: AddFirm }) body: z.infer<typeof AddFirm>,
  ): Promise<z.infer<typeof FirmBrief>> {
    return this.unitOfWork.run(command, (transaction) => this.addFirm.handle(transaction, body));
  }
}
