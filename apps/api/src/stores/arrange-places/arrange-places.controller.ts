import { IdParam } from '@corewright/contracts/base';
import {
  AlikeLie,
  AlikeQuery,
  CarryPlace,
  ChangePlaceClosed,
  ContentsMoved,
  EditPlace,
  MoveContents,
  PlaceCarried,
  PlaceLevel,
  PlaceLevelQuery,
  PlacePage,
} from '@corewright/contracts/places';
import { Body, Controller, Get, HttpCode, Param, Patch, Post, Query } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { sayAlike } from '../alike/say-alike.js';
import { MoveContentsHandler } from '../move-contents/move-contents.handler.js';
import { placeLevel } from '../place.queries.js';
import { CarryPlaceHandler, ClosePlaceHandler, EditPlaceHandler } from './arrange-places.handlers.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Places as they stand in each other, how that changes, and what goes from one to another at once. */
@Controller()
export class ArrangePlacesController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly editing: EditPlaceHandler,
    private readonly carrying: CarryPlaceHandler,
    private readonly closing: ClosePlaceHandler,
    private readonly contents: MoveContentsHandler,
  ) {}

  @Get('place-levels')
  @Allow(everyone)
  @Answers(PlaceLevel)
  async level(@Query({ schema: PlaceLevelQuery }) query: z.infer<typeof PlaceLevelQuery>): Promise<z.infer<typeof PlaceLevel>> {
    return { places: await placeLevel(this.database, query.within ?? null) };
  }

  @Get('things/:id/alike')
  @Allow(everyone)
  @Answers(AlikeLie)
  alike(@Param({ schema: IdParam }) param: IdOfPath): Promise<AlikeLie> {
    return sayAlike(this.database, { of: 'thing', id: param.id });
  }

  @Get('parts/:id/alike')
  @Allow(everyone)
  @Answers(AlikeLie)
  alikeOfPart(
    @Param({ schema: IdParam }) param: IdOfPath,
    @Query({ schema: AlikeQuery }) query: z.infer<typeof AlikeQuery>,
  ): Promise<AlikeLie> {
    return sayAlike(this.database, { of: 'part', id: param.id, besides: query.besides ?? null });
  }

  @Get('unit-types/:id/alike')
  @Allow(everyone)
  @Answers(AlikeLie)
  alikeOfType(
    @Param({ schema: IdParam }) param: IdOfPath,
    @Query({ schema: AlikeQuery }) query: z.infer<typeof AlikeQuery>,
  ): Promise<AlikeLie> {
    return sayAlike(this.database, { of: 'unit type', id: param.id, besides: query.besides ?? null });
  }

  @Patch('places/:id')
  @Allow(keepers)
  @Answers(PlacePage)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EditPlace }) body: EditPlace,
  ): Promise<PlacePage> {
    return this.unitOfWork.run(command, (transaction) => this.editing.handle(transaction, param.id, body));
  }

  @Post('places/:id/carrying')
  @HttpCode(200)
  @Allow(hands)
  @Answers(PlaceCarried)
  carry(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: CarryPlace }) body: CarryPlace,
  ): Promise<PlaceCarried> {
    return this.unitOfWork.run(command, (transaction) => this.carrying.handle(transaction, param.id, body));
  }

  @Post('places/:id/closing')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(PlacePage)
  close(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ChangePlaceClosed }) _body: z.infer<typeof ChangePlaceClosed>,
  ): Promise<PlacePage> {
    return this.unitOfWork.run(command, (transaction) => this.closing.close(transaction, param.id));
  }

  @Post('places/:id/opening')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(PlacePage)
  open(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: ChangePlaceClosed }) _body: z.infer<typeof ChangePlaceClosed>,
  ): Promise<PlacePage> {
    return this.unitOfWork.run(command, (transaction) => this.closing.open(transaction, param.id));
  }

  @Post('contents-moves')
  @HttpCode(200)
  @Allow(hands)
  @Answers(ContentsMoved)
  moveContents(@Issued() command: Command, @Body({ schema: MoveContents }) body: MoveContents): Promise<ContentsMoved> {
    return this.unitOfWork.run(command, (transaction) => this.contents.handle(transaction, body));
  }
}
