import { bodyOf, commandHeaders, encodeBody, exchange, type Method } from './client.js';
import { alone } from './lease.js';
import { network } from './network.js';
import { problemFrom } from './problem.js';
import type { Answer, QueuedCommand } from './queue-machine.js';
import { QueueRunner, type QueueStore } from './queue-runner.js';
import { memoryQueueStore, openQueueStore } from './queue-store.js';
import { newKey } from './uuid.js';

/** What is done while offline, or before the answer is there, is kept here in order until the server has decided. */

export type QueueSnapshot = {
  /** waiting for the network or for their turn, oldest first; of every person of this device */
  readonly waiting: readonly QueuedCommand[];
  /** refused: someone must decide */
  readonly needsYou: readonly QueuedCommand[];
  /** the newest that were done, newest first */
  readonly done: readonly QueuedCommand[];
  /** false where the browser keeps nothing: then a reload loses what waits, and the screen says so */
  readonly kept: boolean;
  /** false until the store has been read once: till then nobody knows whether something waits */
  readonly known: boolean;
};

const requestMilliseconds = 20_000;
const empty: QueueSnapshot = { waiting: [], needsYou: [], done: [], kept: true, known: false };
let snapshot: QueueSnapshot = empty;
let personId: string | null = null;
let kept = true;
const listeners = new Set<() => void>();
const settledListeners = new Set<(command: QueuedCommand) => void>();
const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel('corewright-queue') : null;

async function send(command: QueuedCommand): Promise<Answer> {
  const encoded = encodeBody(command.body);
  try {
    const response = await exchange(command.method, command.path, {
      headers: { ...encoded.headers, ...commandHeaders(command.key, command.madeAt, command.ifMatch) },
      signal: AbortSignal.timeout(requestMilliseconds),
      ...(encoded.body === undefined ? {} : { body: encoded.body }),
    });
    const body = await bodyOf(response);
    if (response.ok) return { kind: 'answered', status: response.status, body, refusal: null, retryAfterMilliseconds: null };
    const { status, code, title, detail, values, correlationId } = problemFrom(response.status, body);
    return {
      kind: 'answered',
      status,
      body,
      refusal: { status, code, title, detail, values, correlationId },
      retryAfterMilliseconds: retryAfter(response),
    };
  } catch {
    return { kind: 'silence' };
  }
}

function retryAfter(response: Response): number | null {
  const seconds = Number(response.headers.get('Retry-After') ?? Number.NaN);
  return Number.isFinite(seconds) ? seconds * 1_000 : null;
}

async function lookAgain(store: QueueStore): Promise<void> {
  const all = [...(await store.all())].sort((a, b) => a.order - b.order);
  snapshot = {
    waiting: all.filter((command) => command.state.kind === 'waiting'),
    needsYou: all.filter((command) => command.state.kind === 'needs-you'),
    done: all.filter((command) => command.state.kind === 'done').reverse(),
    kept,
    known: true,
  };
  for (const listener of listeners) listener();
}

async function open(): Promise<{ store: QueueStore; runner: QueueRunner }> {
  let store: QueueStore;
  try {
    store = await openQueueStore();
  } catch {
    kept = false;
    store = memoryQueueStore();
  }
  const runner = new QueueRunner({
    store,
    send,
    alone,
    personId: () => personId,
    now: Date.now,
    chance: Math.random,
    freshKey: newKey,
    wakeAfter: (milliseconds, work) => void setTimeout(work, milliseconds),
    changed: (settled) => {
      void lookAgain(store);
      if (settled !== null) for (const listener of settledListeners) listener(settled);
      channel?.postMessage(settled);
    },
  });
  channel?.addEventListener('message', (message: MessageEvent<QueuedCommand | null>) => {
    void lookAgain(store);
    if (message.data !== null) for (const listener of settledListeners) listener(message.data);
    else void runner.run();
  });
  network.subscribe(() => {
    if (network.get().up) void runner.hurry();
  });
  await lookAgain(store);
  void runner.run();
  return { store, runner };
}

let opened: ReturnType<typeof open> | null = null;
const ready = () => {
  opened ??= open();
  return opened;
};

export type NewCommand = {
  readonly method: Method;
  readonly path: string;
  readonly body: unknown;
  readonly words: string;
  readonly key?: string;
  readonly ifMatch?: string;
};

export const queue = {
  get: (): QueueSnapshot => snapshot,
  subscribe(listener: () => void): () => void {
    void ready();
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  /** Told of each command that the server has decided, whichever tab sent it. */
  onSettled(listener: (command: QueuedCommand) => void): () => void {
    settledListeners.add(listener);
    return () => settledListeners.delete(listener);
  },
  /** Says who is signed in: only that person's commands are sent. */
  async belongTo(id: string | null): Promise<void> {
    personId = id;
    if (id !== null) await (await ready()).runner.hurry();
  },
  /** Kept when the promise is fulfilled; sent as soon as it can be. */
  async add(command: NewCommand): Promise<QueuedCommand> {
    if (personId === null) throw new Error('Nobody is signed in, so there is nobody in whose name to keep this');
    const { runner } = await ready();
    return runner.add({ key: newKey(), ...command, personId, madeAt: new Date().toISOString() });
  },
  /** The command once the server has decided; waits for ever if it never does. */
  async settled(key: string): Promise<QueuedCommand> {
    const { store } = await ready();
    return new Promise((resolve) => {
      const stop = queue.onSettled((command) => {
        if (command.key !== key) return;
        stop();
        resolve(command);
      });
      void store.all().then((all) => {
        const found = all.find((command) => command.key === key);
        if (found === undefined || found.state.kind === 'waiting') return;
        stop();
        resolve(found);
      });
    });
  },
  async hurry(): Promise<void> {
    await (await ready()).runner.hurry();
  },
  async setAside(key: string): Promise<void> {
    await (await ready()).runner.setAside(key);
  },
  async tryAgain(key: string): Promise<void> {
    await (await ready()).runner.tryAgain(key);
  },
  /** Takes back a command that never went on the wire; false when it has been tried. */
  async withdraw(key: string): Promise<boolean> {
    return (await ready()).runner.withdraw(key);
  },
  async dismiss(key: string): Promise<void> {
    await (await ready()).runner.dismiss(key);
  },
};
