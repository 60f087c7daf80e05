/** Sends photographs one after another as a device does, from a thread of its own: whoever times scans beside it is not held up by it. */
import { createHash } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { newId } from '@corewright/api/dist/platform/new-id.js';
import type { AskedServer } from './child-server.js';

const pieceBytes = 1024 * 1024;

interface Load {
  server: AskedServer;
  subjectId: string;
  photographs: Uint8Array[];
}

/** Sends these photographs of a thing. @returns how many milliseconds each took, from its first byte to the answer that it is kept */
export function sendPhotographs(load: Load): Promise<number[]> {
  const { origin, headers } = load.server;
  const worker = new Worker(new URL(import.meta.url), { workerData: { ...load, server: { origin, headers } } satisfies Load });
  return new Promise((settle, fail) => {
    worker.once('message', settle);
    worker.once('error', fail);
  });
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

if (!isMainThread) parentPort?.postMessage(await sendAll(workerData as Load));
