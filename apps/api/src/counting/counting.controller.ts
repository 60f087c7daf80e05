import { IdParam } from '@corewright/contracts/base';
import {
  BeginCount,
  ClosePlace,
  CountDueList,
  CountEntered,
  CountHits,
  CountList,
  CountMark,
  CountPage,
  CountSettings,
  EnterCount,
  EntryStruck,
  LastCounted,
  PlaceClosed,
  PlaceTaken,
  RecordCountFinding,
  StrikeEntry,
  TakePlace,
} from '@corewright/contracts/counting';
import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, Person, type SignedIn } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { BeginCountHandler } from './begin-count/begin-count.handler.js';
import { ClosePlaceHandler } from './close-place/close-place.handler.js';
import { CountPages, countList } from './count-page.js';
import { EnterHandler } from './enter/enter.handler.js';
import { StrikeEntryHandler } from './enter/strike-entry.handler.js';
import { RecordFindingHandler } from './find/record-finding.handler.js';
import { countHits } from './hits/count-hits.js';
import { lastCountedOfPlace, lastCountedOfThing } from './hits/last-counted.js';
import { CountSchedule } from './schedule/count-schedule.js';
import { countMark, countSettings } from './schedule/settings.js';
import { TakePlaceHandler } from './take-place/take-place.handler.js';

type IdOfPath = z.infer<typeof IdParam>;

/** Counting, for whoever does it: nothing here says what the books hold, but for what was posted. */
@Controller()
export class CountingController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly schedule: CountSchedule,
    private readonly pages: CountPages,
    private readonly begin: BeginCountHandler,
    private readonly take: TakePlaceHandler,
    private readonly enter: EnterHandler,
    private readonly strike: StrikeEntryHandler,
    private readonly close: ClosePlaceHandler,
    private readonly find: RecordFindingHandler,
  ) {}

  /** What is due to be counted, the longest overdue first. */
  @Get('counts-due')
  @Allow(everyone)
  @Answers(CountDueList)
  due(): Promise<CountDueList> {
    return this.schedule.due();
  }

  @Get('counts')
  @Allow(everyone)
  @Answers(CountList)
  list(): Promise<CountList> {
    return countList(this.database);
  }

  @Get('count-settings')
  @Allow(everyone)
  @Answers(CountSettings)
  settings(): Promise<CountSettings> {
    return countSettings(this.database);
  }

  @Get('count-hits')
  @Allow(everyone)
  @Answers(CountHits)
  hits(): Promise<CountHits> {
    return countHits(this.database);
  }

  @Get('counts/:id')
  @Allow(everyone)
  @Answers(CountPage)
  async page(@Param({ schema: IdParam }) param: IdOfPath, @Person() person: SignedIn): Promise<CountPage> {
    const page = await this.pages.of(this.database, param.id, person);
    if (page === null) throw new RefusalError(notFound('This count'));
    return page;
  }

  @Get('things/:id/counted')
  @Allow(everyone)
  @Answers(LastCounted)
  ofThing(@Param({ schema: IdParam }) param: IdOfPath): Promise<LastCounted> {
    return lastCountedOfThing(this.database, param.id);
  }

  @Get('places/:id/counted')
  @Allow(everyone)
  @Answers(LastCounted)
  ofPlace(@Param({ schema: IdParam }) param: IdOfPath): Promise<LastCounted> {
    return lastCountedOfPlace(this.database, param.id);
  }

  @Get('parts/:id/count-mark')
  @Allow(everyone)
  @Answers(CountMark)
  mark(@Param({ schema: IdParam }) param: IdOfPath): Promise<CountMark> {
    return countMark(this.database, param.id);
  }

  @Post('counts')
  @HttpCode(200)
  @Allow(hands)
  @Answers(CountPage)
  beginCount(@Issued() command: Command, @Body({ schema: BeginCount }) body: BeginCount): Promise<CountPage> {
    return this.unitOfWork.run(command, (transaction) => this.begin.handle(transaction, body));
  }

  @Post('count-places')
  @HttpCode(200)
  @Allow(hands)
  @Answers(PlaceTaken)
  takePlace(@Issued() command: Command, @Body({ schema: TakePlace }) body: TakePlace): Promise<PlaceTaken> {
    return this.unitOfWork.run(command, (transaction) => this.take.handle(transaction, body));
  }

  @Post('count-entries')
  @HttpCode(200)
  @Allow(hands)
  @Answers(CountEntered)
  enterCount(@Issued() command: Command, @Body({ schema: EnterCount }) body: EnterCount): Promise<CountEntered> {
    return this.unitOfWork.run(command, (transaction) => this.enter.handle(transaction, body));
  }

  @Post('count-entries/:id/strike')
  @HttpCode(200)
  @Allow(hands)
  @Answers(EntryStruck)
  strikeEntry(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: StrikeEntry }) _body: z.infer<typeof StrikeEntry>,
  ): Promise<EntryStruck> {
    return this.unitOfWork.run(command, (transaction) => this.strike.handle(transaction, param.id));
  }

  @Post('count-closings')
  @HttpCode(200)
  @Allow(hands)
  @Answers(PlaceClosed)
  closePlace(@Issued() command: Command, @Body({ schema: ClosePlace }) body: ClosePlace): Promise<PlaceClosed> {
    return this.unitOfWork.run(command, (transaction) => this.close.handle(transaction, body));
  }

  @Post('count-findings')
  @HttpCode(200)
  @Allow(hands)
  @Answers(CountPage)
  record(@Issued() command: Command, @Body({ schema: RecordCountFinding }) body: RecordCountFinding): Promise<CountPage> {
    return this.unitOfWork.run(command, (transaction) => this.find.handle(transaction, body));
  }
}
