import type { Server } from 'node:http';
import { type BeforeApplicationShutdown, Injectable } from '@nestjs/common';
import { HttpAdapterHost } from '@nestjs/core';

/** What has not been answered by then is cut off: it is sent again, and counts once. */
const patienceMilliseconds = 5_000;

/**
 * Lets a server that is told to stop come to its end. Browsers keep their connections and send on them as long as they
 * are kept: so from here on each answer is the last on its connection.
 */
@Injectable()
export class LastAnswers implements BeforeApplicationShutdown {
  constructor(private readonly adapters: HttpAdapterHost) {}

  beforeApplicationShutdown(): void {
    const server = this.adapters.httpAdapter.getHttpServer() as Server;
    server.prependListener('request', (_request, response) => response.setHeader('connection', 'close'));
    setTimeout(() => server.closeAllConnections(), patienceMilliseconds).unref();
  }
}
