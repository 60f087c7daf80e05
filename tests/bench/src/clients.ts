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

export interface Answered extends Timing {
  /** how many answers of each status */
  statuses: ReadonlyMap<number, number>;
}

export const clientCount = 8;

/**
 * Sends each client's questions one after another over a kept connection, all clients at the same time.
 * @param expected what may be answered
 * @throws Error on any other answer: a figure of refusals that nobody expected would be worth nothing
 */
export async function askAll(
  server: AskedServer,
  asksByClient: readonly (readonly Ask[])[],
  expected: readonly number[] = [200],
): Promise<Answered> {
  const agent = new Agent({ keepAlive: true, maxSockets: asksByClient.length });
  const latencies: number[] = [];
  const statuses = new Map<number, number>();
  const begun = performance.now();
  await Promise.all(
    asksByClient.map(async (asks) => {
      for (const ask of asks) {
        const { milliseconds, status } = await answerTo(server, { agent, ask, expected });
        latencies.push(milliseconds);
        statuses.set(status, (statuses.get(status) ?? 0) + 1);
      }
    }),
  );
  const seconds = (performance.now() - begun) / 1000;
  agent.destroy();
  return { latencies: Float64Array.from(latencies).sort(), seconds, statuses };
}

interface Asking {
  agent: Agent;
  ask: Ask;
  expected: readonly number[];
}

function answerTo(server: AskedServer, { agent, ask, expected }: Asking): Promise<{ milliseconds: number; status: number }> {
  return new Promise((settle, fail) => {
    const begun = performance.now();
    const headers = { ...server.headers, ...ask.headers };
    const sent = request(`${server.origin}${ask.path}`, { agent, method: ask.method, headers }, (response) => {
      const pieces: Buffer[] = [];
      response.on('data', (piece: Buffer) => pieces.push(piece));
      response.on('error', fail);
      response.on('end', () => {
        const status = response.statusCode ?? 0;
        if (expected.includes(status)) settle({ milliseconds: performance.now() - begun, status });
        else fail(new Error(`${ask.method} ${ask.path}: ${status} ${Buffer.concat(pieces).toString('utf8').slice(0, 500)}`));
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
