/**
 * The floor of an answer: a Nest application of one controller, without guards, pipes or middleware, that does one
 * primary-key SELECT through a pool like that of the server. Says where it listens on standard output.
 */
import 'reflect-metadata';
import { createPool } from '@corewright/api/dist/platform/database/pool.js';
import { Controller, Get, Inject, Module, Param } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import type { Pool } from 'pg';

const POOL = Symbol('pool');
/** The same number of connections as the server has. */
const connectionsMax = 16;
const selectThing = {
  name: 'thing',
  text: 'SELECT id, kind, owner_id, held, claimed, condemned, version FROM things WHERE id = $1',
};

@Controller('things')
class BareController {
  constructor(@Inject(POOL) private readonly pool: Pool) {}

  @Get(':id')
  async thing(@Param('id') id: string): Promise<unknown> {
    const answer = await this.pool.query({ ...selectThing, values: [id] });
    return answer.rows[0];
  }
}

const pool = createPool(process.env.DATABASE_URL ?? '', { max: connectionsMax });

@Module({ controllers: [BareController], providers: [{ provide: POOL, useValue: pool }] })
class BareModule {}

const app = await NestFactory.create<NestExpressApplication>(BareModule, { logger: false });
await app.listen(0, '127.0.0.1');
process.stdout.write(`${await app.getUrl()}\n`);
process.once('SIGTERM', async () => {
  await app.close();
  await pool.end();
});
