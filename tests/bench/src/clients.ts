import { Agent, request } from 'node:http';
import { performance } from 'node:perf_hooks';
import type { AskedServer } from './child-server.js';

export interface Ask {
  method: 'GET' | 'POST' | 'PUT';
  path: string;
  headers?: Record<string, string>;
  body?: string;
}

export interface Timing {
  /** milliseconds of each answer, shortest first */
  latencies: Float64Array;
  /** from the first question to the last answer */
  seconds: number;
}

export const clientCount = 8;

/**
 * Sends each client's questions one after another over a kept connection, all clients at the same time.
 * @throws Error on an answer that is not 200: a figure of refusals would be worth nothing
 */
export async function askAll(server: AskedServer, asksByClient: readonly (readonly Ask[])[]): Promise<Timing> {
  const agent = new Agent({ keepAlive: true, maxSockets: asksByClient.length });
  const latencies: number[] = [];
  const begun = performance.now();
  await Promise.all(
    asksByClient.map(async (asks) => {
      for (const ask of asks) latencies.push(await timeOf(server, agent, ask));
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  agent.destroy();
  return { latencies: Float64Array.from(latencies).sort(), seconds };
}

function timeOf(server: AskedServer, agent: Agent, ask: Ask): Promise<number> {
  return new Promise((settle, fail) => {
    const begun = performance.now();
    const headers = { ...server.headers, ...ask.headers };
    const sent = request(`${server.origin}${ask.path}`, { agent, method: ask.method, headers }, (response) => {
      const pieces: Buffer[] = [];
      response.on('data', (piece: Buffer) => pieces.push(piece));
      response.on('error', fail);
      response.on('end', () => {
        if (response.statusCode === 200) settle(performance.now() - begun);
        else
          fail(
            new Error(
              `${ask.method} ${ask.path}: ${response.statusCode} ${Buffer.concat(pieces).toString('utf8').slice(0, 500)}`,
            ),
          );
      });
    });
    sent.on('error', fail);
    sent.end(ask.body);
  });
}

/** Deals questions to the clients in turn. */
export function deal<T>(items: readonly T[], clients = clientCount): T[][] {
  return Array.from({ length: clients }, (_, client) => items.filter((_item, index) => index % clients === client));
}
