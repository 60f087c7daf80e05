import type { BareServer, Visitor } from './bare-server.js';
import type { Stock } from './stock.js';

/** One change, made ready to be sent. */
export interface ReadyWrite {
  path: string;
  body: unknown;
  ifMatch?: number;
  /** files of a multipart upload in place of a body, by field */
  files?: Record<string, { name: string; bytes: Uint8Array; type: string }>;
}

export interface WriteScene {
  server: BareServer;
  owner: Visitor;
  stock: Stock;
}

/** Makes what a route needs and gives a change that it accepts; each call makes another. */
export type MakeReady = (scene: WriteScene) => Promise<ReadyWrite>;

let serial = 0;
export function next(): number {
  serial += 1;
  return serial;
}
export const fresh = (word: string): string => `${word} ${next()}`;
export const today = (): string => new Date().toISOString().slice(0, 10);
export const dayAhead = (): string => new Date(Date.now() + next() * 86_400_000).toISOString().slice(0, 10);

export async function accepted<Body>(answer: Promise<{ status: number; body: Body }>): Promise<Body> {
  const { status, body } = await answer;
  if (status !== 200) throw new Error(`Refused while it was made ready: ${status} ${JSON.stringify(body)}`);
  return body;
}
