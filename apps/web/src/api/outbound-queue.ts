import { bodyOf, commandHeaders, encodeBody, exchange, type Method } from './client.js';
import { alone } from './lease.js';
import { network } from './network.js';
import { problemFrom } from './problem.js';
import type { Answer, Order, QueuedCommand } from './queue-machine.js';
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

/** Sends a command with the headers that make it one; each request may take so long. Throws where no answer came. */
export type Travel = (command: QueuedCommand, requestMilliseconds: number) => Promise<Response>;

export type QueueOptions = {
  /** of its store, its channel and its lock in this browser */
  readonly name: string;
  readonly order: Order;
  /** how many that were done are remembered, for the screen */
  readonly doneKept: number;
  /** how long an answer may take before it counts as none */
  readonly requestMilliseconds: number;
  /** what must happen here before a command can be sent, in words; null when it can go */
  readonly whyHeldBack?: (command: QueuedCommand) => Promise<string | null>;
  /** refusals that are no verdict but mean the same, in words by their code */
  readonly heldBackBy?: ReadonlyMap<string, string>;
  /** how a command travels that is more than one request; without it, as it is */
  readonly travel?: Travel;
};

const empty: QueueSnapshot = { waiting: [], needsYou: [], done: [], kept: true, known: false };
/** Who is signed in: only that person's commands are sent. */
let personId: string | null = null;

export type NewCommand = {
  readonly method: Method;
  readonly path: string;
  readonly body: unknown;
  readonly words: string;
  readonly key?: string;
  readonly ifMatch?: string;
};

function sendAsItIs(command: QueuedCommand, requestMilliseconds: number): Promise<Response> {
  const encoded = encodeBody(command.body);
  return exchange(command.method, command.path, {
    headers: { ...encoded.headers, ...commandHeaders(command.key, command.madeAt, command.ifMatch) },
    signal: AbortSignal.timeout(requestMilliseconds),
    ...(encoded.body === undefined ? {} : { body: encoded.body }),
  });
}

async function send(command: QueuedCommand, options: QueueOptions): Promise<Answer> {
  const heldBack = (await options.whyHeldBack?.(command)) ?? null;
  if (heldBack !== null) return { kind: 'held back', why: heldBack, freshKey: null };
  try {
    const response = await (options.travel ?? sendAsItIs)(command, options.requestMilliseconds);
    const body = await bodyOf(response);
    if (response.ok) return { kind: 'answered', status: response.status, body, refusal: null, retryAfterMilliseconds: null };
    const { status, code, title, detail, values, correlationId } = problemFrom(response.status, body);
    const tooSoon = options.heldBackBy?.get(code);
    if (tooSoon !== undefined) return { kind: 'held back', why: tooSoon, freshKey: newKey() };
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

/** Commands of one kind, kept on this device until the server has decided on each. */
export class OutboundQueue {
  private snapshot: QueueSnapshot = empty;
  private kept = true;
  private readonly listeners = new Set<() => void>();
  private readonly settledListeners = new Set<(command: QueuedCommand) => void>();
  private readonly channel: BroadcastChannel | null;
  private opened: Promise<{ store: QueueStore; runner: QueueRunner }> | null = null;

  constructor(private readonly options: QueueOptions) {
    this.channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(options.name) : null;
  }

  readonly get = (): QueueSnapshot => this.snapshot;

  readonly subscribe = (listener: () => void): (() => void) => {
    void this.ready();
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Told of each command that the server has decided, whichever tab sent it. */
  onSettled(listener: (command: QueuedCommand) => void): () => void {
    this.settledListeners.add(listener);
    return () => this.settledListeners.delete(listener);
  }

  /** Kept when the promise is fulfilled; sent as soon as it can be. */
  async add(command: NewCommand): Promise<QueuedCommand> {
    if (personId === null) throw new Error('Nobody is signed in, so there is nobody in whose name to keep this');
    const { runner } = await this.ready();
    return runner.add({ key: newKey(), ...command, personId, madeAt: new Date().toISOString() });
  }

  /** The command once the server has decided; waits for ever if it never does. */
  async settled(key: string): Promise<QueuedCommand> {
    const { store } = await this.ready();
    return new Promise((resolve) => {
      const stop = this.onSettled((command) => {
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
  }

  async hurry(): Promise<void> {
    await (await this.ready()).runner.hurry();
  }

  async setAside(key: string): Promise<void> {
    await (await this.ready()).runner.setAside(key);
  }

  async tryAgain(key: string): Promise<void> {
    await (await this.ready()).runner.tryAgain(key);
  }

  /** Takes back a command that never went on the wire; false when it has been tried. */
  async withdraw(key: string): Promise<boolean> {
    return (await this.ready()).runner.withdraw(key);
  }

  async dismiss(key: string): Promise<void> {
    await (await this.ready()).runner.dismiss(key);
  }

  private ready(): Promise<{ store: QueueStore; runner: QueueRunner }> {
    this.opened ??= this.open();
    return this.opened;
  }

  private async open(): Promise<{ store: QueueStore; runner: QueueRunner }> {
    const { name, order, doneKept } = this.options;
    const store = await openQueueStore(name).catch(() => {
      this.kept = false;
      return memoryQueueStore();
    });
    const runner = new QueueRunner({
      store,
      order,
      doneKept,
      send: (command) => send(command, this.options),
      alone: (work) => alone(name, work),
      personId: () => personId,
      now: Date.now,
      chance: Math.random,
      freshKey: newKey,
      wakeAfter: (milliseconds, work) => void setTimeout(work, milliseconds),
      changed: (settled) => {
        void this.lookAgain(store);
        if (settled !== null) this.tellSettled(settled);
        this.channel?.postMessage(settled);
      },
    });
    this.channel?.addEventListener('message', (message: MessageEvent<QueuedCommand | null>) => {
      void this.lookAgain(store);
      if (message.data !== null) this.tellSettled(message.data);
      else void runner.run();
    });
    network.subscribe(() => {
      if (network.get().up) void runner.hurry();
    });
    await this.lookAgain(store);
    void runner.run();
    return { store, runner };
  }

  private tellSettled(command: QueuedCommand): void {
    for (const listener of this.settledListeners) listener(command);
  }

  private async lookAgain(store: QueueStore): Promise<void> {
    const all = [...(await store.all())].sort((a, b) => a.order - b.order);
    this.snapshot = {
      waiting: all.filter((command) => command.state.kind === 'waiting'),
      needsYou: all.filter((command) => command.state.kind === 'needs-you'),
      done: all.filter((command) => command.state.kind === 'done').reverse(),
      kept: this.kept,
      known: true,
    };
    for (const listener of this.listeners) listener();
  }
}

const queues = new Set<OutboundQueue>();

/** Opens a queue; there is one for each name. */
export function outboundQueue(options: QueueOptions): OutboundQueue {
  const made = new OutboundQueue(options);
  queues.add(made);
  return made;
}

/** Says who is signed in. What waits of others stays, and goes out when they sign in. */
export async function queuesBelongTo(id: string | null): Promise<void> {
  personId = id;
  if (id !== null) await Promise.all([...queues].map((each) => each.hurry()));
}
