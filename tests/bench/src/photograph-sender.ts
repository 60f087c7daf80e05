/** Sends photographs one after another as a device does, from a process of its own: a device shares neither memory nor its collection with whoever times scans. */
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type { AskedServer } from './child-server.js';

const pieceBytes = 1024 * 1024;

interface Load {
  server: AskedServer;
  subjectId: string;
  photographs: Uint8Array[];
}

const program = fileURLToPath(import.meta.url);

export interface PhotographSender {
  /** Sends these photographs of a thing. @returns how many milliseconds each took, from its first byte to the answer that it is kept */
  send(): Promise<number[]>;
  stop(): void;
}

/** A process that has the photographs and waits until it is told to send them. */
export async function startSender({ server, subjectId, photographs }: Load): Promise<PhotographSender> {
  const { origin, headers } = server;
  const child = fork(program, ['send'], { serialization: 'advanced' });
  const answered = <T>(message: Load | 'send'): Promise<T> =>
    new Promise((settle, fail) => {
      const gone = (code: number | null): void => fail(new Error(`The process that sends photographs ended with ${code}`));
      child.once('exit', gone).once('message', (answer) => {
        child.off('exit', gone);
        settle(answer as T);
      });
      child.send(message);
    });
  await answered<'ready'>({ server: { origin, headers }, subjectId, photographs });
  return { send: () => answered<number[]>('send'), stop: () => void child.kill() };
}

async function sendAll({ server, subjectId, photographs }: Load): Promise<number[]> {
  const took: number[] = [];
  for (const photograph of photographs) {
    const begun = performance.now();
    await sendOne(server, subjectId, photograph);
    took.push(performance.now() - begun);
  }
  return took;
}

async function sendOne(server: AskedServer, subjectId: string, photograph: Uint8Array): Promise<void> {
  const id = newId();
  const bytes = photograph.length;
  for (let at = 0; at < bytes; at += pieceBytes) {
    const headers = { ...server.headers, 'content-type': 'application/octet-stream', 'idempotency-key': newId() };
    const body = new Uint8Array(photograph.subarray(at, at + pieceBytes));
    await accepted(fetch(`${server.origin}/api/uploads/${id}?offset=${at}&bytes=${bytes}`, { method: 'PUT', headers, body }));
  }
  const headers = { ...server.headers, 'content-type': 'application/json', 'idempotency-key': newId() };
  const body = JSON.stringify({ id, subjectId, bytes, sha256: createHash('sha256').update(photograph).digest('hex') });
  await accepted(fetch(`${server.origin}/api/pictures`, { method: 'POST', headers, body }));
}

async function accepted(answer: Promise<Response>): Promise<void> {
  const { status, ...rest } = await answer.then(async (each) => ({ status: each.status, words: await each.text() }));
  if (status !== 200) throw new Error(`A photograph was refused: ${status} ${rest.words.slice(0, 300)}`);
}

if (process.argv[1] === program) {
  let load: Load | null = null;
  process.on('message', (message: Load | 'send') => {
    if (message !== 'send') {
      load = message;
      process.send?.('ready');
    } else if (load !== null) void sendAll(load).then((took) => process.send?.(took));
  });
}
