import { type DynamicModule, Module } from '@nestjs/common';
import { areas } from './areas.js';
import type { Config } from './platform/config/config.js';
import type { Database } from './platform/database/database.js';
import type { Log } from './platform/log.js';
import { PlatformModule } from './platform/platform.module.js';

@Module({})
export class AppModule {
  static with(config: Config, database: Database, log: Log): DynamicModule {
    return { module: AppModule, imports: [PlatformModule.with(config, database, log), ...areas] };
  }
}
