import {
  type DynamicModule,
  Global,
  Module,
  StandardSchemaSerializerInterceptor,
  StandardSchemaValidationPipe,
} from '@nestjs/common';
import { APP_FILTER, APP_GUARD, APP_INTERCEPTOR, APP_PIPE, Reflector } from '@nestjs/core';
import { AccessGuard } from './access/access.guard.js';
import { SessionReader } from './access/session-reader.js';
import { UnitOfWork } from './commands/unit-of-work.js';
import { Config } from './config/config.js';
import { Database } from './database/database.js';
import { HealthController } from './health/health.controller.js';
import { EtagInterceptor } from './http/etag.interceptor.js';
import { inputRefused } from './http/input-refused.js';
import { LastAnswers } from './http/last-answers.js';
import { ProblemFilter } from './http/problem.filter.js';
import { Log } from './log.js';
import { EventsController } from './news/events.controller.js';
import { NewsRelay } from './news/news-relay.js';

@Global()
@Module({})
export class PlatformModule {
  static with(config: Config, database: Database, log: Log): DynamicModule {
    return {
      module: PlatformModule,
      controllers: [HealthController, EventsController],
      providers: [
        { provide: Config, useValue: config },
        { provide: Database, useValue: database },
        { provide: Log, useValue: log },
        NewsRelay,
        UnitOfWork,
        SessionReader,
        LastAnswers,
        { provide: APP_FILTER, useClass: ProblemFilter },
        { provide: APP_GUARD, useClass: AccessGuard },
        { provide: APP_PIPE, useFactory: () => new StandardSchemaValidationPipe({ exceptionFactory: inputRefused }) },
        { provide: APP_INTERCEPTOR, useClass: EtagInterceptor },
        {
          provide: APP_INTERCEPTOR,
          inject: [Reflector],
          useFactory: (reflector: Reflector) => new StandardSchemaSerializerInterceptor(reflector),
        },
      ],
      exports: [Config, Database, Log, NewsRelay, UnitOfWork, SessionReader],
    };
  }
}
