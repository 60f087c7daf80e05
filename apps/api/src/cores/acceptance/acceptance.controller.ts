import {
  Acceptance,
  AcceptancesOfUnit,
  AcceptanceTerms,
  DecideAcceptance,
  EditAcceptanceTerms,
  FillInAcceptance,
} from '@corewright/contracts/acceptance';
import { IdParam } from '@corewright/contracts/base';
import { Body, Controller, Get, HttpCode, Param, Post, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers, Person, type SignedIn } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { notFound, RefusalError } from '../../platform/refusal.js';
import { acceptancesOf, withoutMoney } from './acceptance.queries.js';
import { DecideAcceptanceHandler } from './decide-acceptance/decide-acceptance.handler.js';
import { editAcceptanceTerms } from './edit-terms.js';
import { FillInHandler } from './fill-in/fill-in.handler.js';
import { acceptanceTerms } from './terms.queries.js';
import { unitToJudge, whyNotFilledIn } from './unit-to-judge.js';

type IdOfPath = z.infer<typeof IdParam>;

/** What a core is credited with is told to those alone who keep the books. */
const isToldMoney = (person: SignedIn): boolean => keepers.includes(person.role);

@Controller()
export class AcceptanceController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly filling: FillInHandler,
    private readonly deciding: DecideAcceptanceHandler,
  ) {}

  @Get('unit-types/:id/acceptance')
  @Allow(everyone)
  @Answers(AcceptanceTerms)
  async terms(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<AcceptanceTerms> {
    const terms = await acceptanceTerms(this.database, param.id);
    if (terms === null) throw new RefusalError(notFound('That unit type'));
    return isToldMoney(person) ? terms : { ...terms, fullCredit: null };
  }

  /** What is asked of a core of a type; before there is any, the version that was seen is 0. */
  @Put('unit-types/:id/acceptance')
  @Allow(keepers)
  @Answers(AcceptanceTerms)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: EditAcceptanceTerms }) body: EditAcceptanceTerms,
  ): Promise<AcceptanceTerms> {
    return this.unitOfWork.run(command, (transaction) => editAcceptanceTerms(transaction, param.id, body));
  }

  @Get('units/:id/acceptances')
  @Allow(everyone)
  @Answers(AcceptancesOfUnit)
  async ofUnit(@Person() person: SignedIn, @Param({ schema: IdParam }) param: IdOfPath): Promise<AcceptancesOfUnit> {
    const unit = await unitToJudge(this.database, param.id);
    if (unit === null) throw new RefusalError(notFound('That unit'));
    const { unitTypeId, isAsked } = unit;
    const acceptances = await acceptancesOf(this.database, param.id);
    const terms = unitTypeId === null || !isAsked ? null : await acceptanceTerms(this.database, unitTypeId);
    const cannot = whyNotFilledIn(unit)?.detail.replace(' Nothing was changed.', '') ?? null;
    if (isToldMoney(person)) return { terms, cannot, acceptances };
    return { terms: terms && { ...terms, fullCredit: null }, cannot, acceptances: acceptances.map(withoutMoney) };
  }

  @Post('units/:id/acceptances')
  @HttpCode(200)
  @Allow(hands)
  @Answers(Acceptance)
  async fillIn(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: FillInAcceptance }) body: FillInAcceptance,
  ): Promise<Acceptance> {
    const written = await this.unitOfWork.run(command, (transaction) => this.filling.handle(transaction, param.id, body));
    return isToldMoney(command.person) ? written : withoutMoney(written);
  }

  @Post('acceptances/:id/decision')
  @HttpCode(200)
  @Allow(keepers)
  @Answers(Acceptance)
  decide(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: IdOfPath,
    @Body({ schema: DecideAcceptance }) body: DecideAcceptance,
  ): Promise<Acceptance> {
    return this.unitOfWork.run(command, (transaction) => this.deciding.handle(transaction, param.id, body));
  }
}
