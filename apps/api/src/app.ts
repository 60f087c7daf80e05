import { readFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { NestFactory } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import { AppModule } from './app.module.js';
import type { Config } from './platform/config/config.js';
import type { Database } from './platform/database/database.js';
import { useAuthorityFile } from './platform/http/authority-file.js';
import { useOpenApi } from './platform/http/open-api.js';
import { requestLog } from './platform/http/request-log.js';
import { refuseForeignWrites } from './platform/http/same-site.js';
import { useSecurityHeaders, useWebApp } from './platform/http/web-app.js';
import type { Log } from './platform/log.js';

/** Builds the server without listening: `main.ts` and the tests both start from here. */
export async function createApp(config: Config, database: Database, log: Log): Promise<NestExpressApplication> {
  const app = await NestFactory.create<NestExpressApplication>(AppModule.with(config, database, log), {
    logger: log,
    bodyParser: false,
    abortOnError: false,
    ...(config.tls ? { httpsOptions: { cert: readFileSync(config.tls.cert), key: readFileSync(config.tls.key) } } : {}),
  });
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  app.use(requestLog(log));
  useSecurityHeaders(app, config);
  app.use('/api', refuseForeignWrites);
  app.useBodyParser('json', { limit: '1mb', strict: true });
  app.setGlobalPrefix('api');
  useOpenApi(app, config);
  useAuthorityFile(app, config);
  useWebApp(app, config);
  keepConnections(app);
  app.enableShutdownHooks([]);
  return app;
}

/** Seconds for which an idle connection is kept: a browser, or a proxy before the server, lets go of it first. */
const idleSeconds = 75;

/** A connection that the server closes just as a client uses it again fails the request for nothing. */
function keepConnections(app: NestExpressApplication): void {
  const server = app.getHttpServer() as Server;
  server.keepAliveTimeout = idleSeconds * 1_000;
  server.headersTimeout = (idleSeconds + 5) * 1_000;
}
