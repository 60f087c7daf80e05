import { Done, Empty } from '@corewright/contracts/base';
import { Me, NewPassPhrase, SignIn, SignInByLink } from '@corewright/contracts/people';
import { Body, Controller, Get, HttpCode, Post, Req, Res } from '@nestjs/common';
import type { Request, Response } from 'express';
import type * as z from 'zod';
import { cookieOf } from '../../platform/access/session-reader.js';
import { Allow, everyone, Person, Public, type SignedIn } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Config } from '../../platform/config/config.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { NewsRelay } from '../../platform/news/news-relay.js';
import { addressOf } from '../address.js';
import { clearSessionCookie, setSessionCookie } from '../session-cookie.js';
import { endSession } from '../sessions.js';
import { type Admitted, SignInHandler } from './sign-in.handler.js';

@Controller()
export class SignInController {
  constructor(
    private readonly handler: SignInHandler,
    private readonly config: Config,
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly relay: NewsRelay,
  ) {}

  @Post('sign-in')
  @Public()
  @Answers(Me)
  @HttpCode(200)
  async signIn(
    @Body({ schema: SignIn }) body: z.infer<typeof SignIn>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<Me> {
    return this.welcome(await this.handler.byName(body, addressOf(request)), request, response);
  }

  @Post('sign-in-link')
  @Public()
  @Answers(Me)
  @HttpCode(200)
  async signInByLink(
    @Body({ schema: SignInByLink }) body: z.infer<typeof SignInByLink>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<Me> {
    return this.welcome(await this.handler.byLink(body, addressOf(request)), request, response);
  }

  @Post('pass-phrase')
  @Public()
  @Answers(Me)
  @HttpCode(200)
  async newPassPhrase(
    @Body({ schema: NewPassPhrase }) body: z.infer<typeof NewPassPhrase>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<Me> {
    return this.welcome(await this.handler.newPassPhrase(body, addressOf(request)), request, response);
  }

  @Post('sign-out')
  @Allow(everyone)
  @Answers(Done)
  @HttpCode(200)
  async signOut(
    @Issued() command: Command,
    @Body({ schema: Empty }) _body: z.infer<typeof Empty>,
    @Req() request: Request,
    @Res({ passthrough: true }) response: Response,
  ): Promise<z.infer<typeof Done>> {
    const token = cookieOf(request, this.config.cookieName);
    const done = await this.unitOfWork.run(command, async (transaction) => {
      if (token) await endSession(transaction, token);
      transaction.news('sessions');
      return { ok: true as const, value: { done: true as const } };
    });
    clearSessionCookie(response, this.config);
    return done;
  }

  @Get('me')
  @Allow(everyone)
  @Answers(Me)
  me(@Person() person: SignedIn): Me {
    return person;
  }

  /** A new token at each sign-in: one that somebody planted beforehand is worth nothing. */
  private async welcome(admitted: Admitted, request: Request, response: Response): Promise<Me> {
    const before = cookieOf(request, this.config.cookieName);
    if (before) await endSession(this.database, before);
    // A new pass phrase ended every session of the person, and this sign-in the one before it.
    await this.relay.tell('sessions');
    setSessionCookie(response, this.config, admitted.token);
    return admitted.me;
  }
}
