import fc from 'fast-check';
import {
  type Answer,
  afterAnswer,
  delayMilliseconds,
  forgettable,
  nextStep,
  type QueuedCommand,
  repeatedBy,
  setAside,
  tryAgain,
} from './queue-machine.js';
import { QueueRunner, type QueueStore } from './queue-runner.js';
import { memoryQueueStore } from './queue-store.js';
import { uuidVersion7 } from './uuid.js';

const waiting = (order: number, over: Partial<QueuedCommand> = {}): QueuedCommand => ({
  key: `key-${order}`,
  order,
  personId: 'edie',
  madeAt: '2026-11-24T10:00:00.000Z',
  method: 'POST',
  path: '/api/scans',
  body: { order },
  words: `scan ${order}`,
  state: { kind: 'waiting', trouble: null },
  tries: 0,
  notBefore: 0,
  ...over,
});
const done: Answer = { kind: 'answered', status: 200, body: { ok: true }, refusal: null, retryAfterMilliseconds: null };
const refusal = (status: number, retryAfterMilliseconds: number | null = null): Answer => ({
  kind: 'answered',
  status,
  body: null,
  refusal: { status, code: 'not-on-this-job', title: 'Not on this job', detail: '', values: {}, correlationId: null },
  retryAfterMilliseconds,
});

describe('what is sent next', () => {
  it('is the oldest that waits, whatever the order in which the store gives them', () => {
    expect(nextStep([waiting(7), waiting(3), waiting(5)], 'edie', 100)).toMatchObject({ kind: 'send', command: { order: 3 } });
  });
  it('is nothing while the oldest must wait: those behind it keep their place', () => {
    expect(nextStep([waiting(1, { notBefore: 500 }), waiting(2)], 'edie', 100)).toEqual({ kind: 'wait', untilMilliseconds: 500 });
  });
  it('is the oldest whose time has come, where no order is kept', () => {
    const commands = [waiting(1, { notBefore: 500 }), waiting(3), waiting(2), waiting(4, { notBefore: 300 })];
    expect(nextStep(commands, 'edie', 100, 'in any order')).toMatchObject({ kind: 'send', command: { order: 2 } });
    expect(nextStep([commands[0]!, commands[3]!], 'edie', 100, 'in any order')).toEqual({ kind: 'wait', untilMilliseconds: 300 });
  });
  it('passes over what is at the side', () => {
    expect(nextStep([afterAnswer(waiting(1), refusal(409), 0, 0), waiting(2)], 'edie', 100)).toMatchObject({
      command: { order: 2 },
    });
  });
  it("never sends one person's scan in another's name", () => {
    expect(nextStep([waiting(1, { personId: 'wilf' })], 'edie', 0)).toEqual({ kind: 'rest' });
    expect(nextStep([waiting(1)], null, 0)).toEqual({ kind: 'rest' });
  });
});

describe('a scan that is refused again', () => {
  const scanOf = (order: number, code: string, minute: string): QueuedCommand =>
    waiting(order, { body: { code, jobId: 'job-1', occurredAt: `2026-11-24T10:${minute}:00.000Z` } });
  const refusedOnce = afterAnswer(scanOf(1, 'L00003732', '01'), refusal(409), 0, 0);

  it('takes the place of the earlier one at the side', () => {
    const again = afterAnswer(scanOf(4, 'L00003732', '09'), refusal(409), 0, 0);
    expect(repeatedBy(again, [refusedOnce, scanOf(2, 'L00003732', '02'), again])).toEqual([refusedOnce]);
  });
  it('leaves alone another thing, another reason, and what the server has not decided', () => {
    const other = afterAnswer(scanOf(4, 'L00003829', '09'), refusal(409), 0, 0);
    expect(repeatedBy(other, [refusedOnce])).toEqual([]);
    const reason = { status: 409, code: 'held-back', title: 'Held back', detail: '', values: {}, correlationId: null };
    const state: QueuedCommand['state'] = { kind: 'needs-you', reason, outcomeKnown: true };
    expect(repeatedBy({ ...refusedOnce, order: 5, state }, [refusedOnce])).toEqual([]);
    expect(repeatedBy(setAside(scanOf(6, 'L00003732', '10')), [refusedOnce])).toEqual([]);
  });
});

describe('what an answer does', () => {
  it('leaves what was held back waiting, and says why', () => {
    const why = 'what it shows is not saved yet';
    const after = afterAnswer(waiting(1), { kind: 'held back', why, freshKey: null }, 1000, 0);
    expect(after).toMatchObject({ key: 'key-1', tries: 1, state: { kind: 'waiting', trouble: why } });
    expect(after.notBefore).toBeGreaterThan(1000);
    expect(afterAnswer(waiting(1), { kind: 'held back', why, freshKey: 'other' }, 1000, 0)).toMatchObject({
      key: 'other',
      tries: 1,
    });
  });
  it('settles on success and keeps the body', () => {
    expect(afterAnswer(waiting(1), done, 0, 0).state).toEqual({ kind: 'done', status: 200, body: { ok: true } });
  });
  it.each([400, 403, 404, 409, 412, 422])('puts a refusal (%i) at the side with its reason', (status) => {
    expect(afterAnswer(waiting(1), refusal(status), 0, 0).state).toMatchObject({
      kind: 'needs-you',
      outcomeKnown: true,
      reason: { title: 'Not on this job' },
    });
  });
  it.each([401, 408, 425, 429, 500, 502, 503, 504])(
    'keeps what has no verdict (%i) in its place under the same key',
    (status) => {
      const after = afterAnswer(waiting(4), refusal(status), 1_000, 0.5);
      expect(after).toMatchObject({ key: 'key-4', order: 4, tries: 1, state: { kind: 'waiting' } });
      expect(after.notBefore).toBeGreaterThan(1_000);
    },
  );
  it('puts a command at the side, under its key, when the server fails on it again and again', () => {
    const fault = { ...refusal(500) };
    expect(afterAnswer(waiting(1, { tries: 4 }), fault, 0, 0).state.kind).toBe('waiting');
    const aside = afterAnswer(waiting(1, { tries: 5 }), fault, 0, 0);
    expect(aside.state).toMatchObject({ kind: 'needs-you', outcomeKnown: false });
    expect(tryAgain(aside, 'fresh').key).toBe('key-1');
    expect(afterAnswer(waiting(1, { tries: 50 }), refusal(503), 0, 0).state.kind).toBe('waiting');
  });
  it('waits as long as the server asks for', () => {
    expect(afterAnswer(waiting(1), refusal(429, 90_000), 1_000, 0).notBefore).toBe(91_000);
  });
  it('backs off from half a second to a minute', () => {
    expect(delayMilliseconds(1, 0)).toBe(500);
    expect(delayMilliseconds(3, 1)).toBe(4_000);
    expect(delayMilliseconds(40, 1)).toBe(60_000);
  });
});

describe('what a person can do', () => {
  it('a refused command is tried again under a new key, since the old one is spent', () => {
    expect(tryAgain(afterAnswer(waiting(1), refusal(409), 0, 0), 'fresh')).toMatchObject({
      key: 'fresh',
      order: 1,
      tries: 0,
      state: { kind: 'waiting' },
    });
  });
  it('a stuck command that was put at the side keeps its key, since it may have been done', () => {
    expect(tryAgain(setAside(waiting(1, { tries: 9 })), 'fresh').key).toBe('key-1');
  });
  it('only what is done is forgotten, the oldest first', () => {
    const all = [
      afterAnswer(waiting(1), done, 0, 0),
      afterAnswer(waiting(2), refusal(409), 0, 0),
      waiting(3),
      afterAnswer(waiting(4), done, 0, 0),
    ];
    expect(forgettable(all, 1).map((command) => command.order)).toEqual([1]);
  });
});

/** A server that does each key once and remembers its verdict, behind a network that loses requests and answers. */
class LossyServer {
  readonly applied: number[] = [];
  private readonly outcomes = new Map<string, Answer>();
  inFlight = 0;
  constructor(
    private readonly fates: readonly Fate[],
    private readonly refuses: (order: number) => boolean,
  ) {}
  private turn = 0;

  async send(command: QueuedCommand): Promise<Answer> {
    this.inFlight += 1;
    if (this.inFlight > 1) throw new Error('two commands are on the wire at once');
    await Promise.resolve();
    const fate = this.fates[this.turn] ?? 'through';
    this.turn += 1;
    this.inFlight -= 1;
    if (fate === 'request lost') return { kind: 'silence' };
    if (fate === 'server in trouble') return refusal(503);
    const answer = this.outcomes.get(command.key) ?? this.decide(command);
    this.outcomes.set(command.key, answer);
    return fate === 'answer lost' ? { kind: 'silence' } : answer;
  }
  private decide(command: QueuedCommand): Answer {
    const { order } = command.body as { order: number };
    if (this.refuses(order)) return refusal(409);
    this.applied.push(order);
    return done;
  }
}
type Fate = 'through' | 'request lost' | 'answer lost' | 'server in trouble';

/** One browser: a store and a lock that its tabs share, a clock that jumps to the next waking. */
function browser(store: QueueStore, server: LossyServer) {
  let now = 0;
  let last: Promise<void> = Promise.resolve();
  const wakings: { at: number; work: () => void }[] = [];
  const tab = () =>
    new QueueRunner({
      store,
      order: 'in order',
      doneKept: 50,
      send: (command) => server.send(command),
      alone: (work) => {
        const turn = last.then(work);
        last = turn.catch(() => undefined);
        return turn;
      },
      personId: () => 'edie',
      now: () => now,
      chance: () => 0.5,
      freshKey: () => uuidVersion7(now, new Uint8Array(10)),
      wakeAfter: (milliseconds, work) => void wakings.push({ at: now + milliseconds, work }),
      changed: () => undefined,
    });
  const idle = async () => {
    // every step of a runner is a promise: enough turns of the loop let all of them rest
    for (let turn = 0; turn < 20; turn += 1) await new Promise<void>((resolve) => setImmediate(resolve));
  };
  const passTime = async () => {
    for (await idle(); wakings.length > 0; await idle()) {
      const next = wakings.shift()!;
      now = Math.max(now, next.at);
      next.work();
    }
  };
  return { tab, passTime };
}

const command = (order: number) => {
  const { key, personId, madeAt, method, path, body, words } = waiting(order);
  return { key, personId, madeAt, method, path, body, words };
};

describe('thirty scans', () => {
  it('all arrive, once and in order, when the network is cut half way and the page is loaded anew', async () => {
    const store = memoryQueueStore();
    const server = new LossyServer(
      [...Array(15).fill('through'), 'answer lost', 'request lost', 'request lost', 'server in trouble'],
      () => false,
    );
    const { tab, passTime } = browser(store, server);
    const first = tab();
    for (let order = 1; order <= 20; order += 1) await first.add(command(order));
    const afterReload = tab();
    for (let order = 21; order <= 30; order += 1) await afterReload.add(command(order));
    await passTime();
    expect(server.applied).toEqual(Array.from({ length: 30 }, (_, index) => index + 1));
    expect((await store.all()).every((each) => each.state.kind === 'done')).toBe(true);
  });

  it('arrive once and in order from two tabs under any losses; refusals stay at the side (property)', async () => {
    const fate = fc.constantFrom<Fate>('through', 'request lost', 'answer lost', 'server in trouble');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fate, { maxLength: 40 }),
        fc.array(fc.boolean(), { minLength: 1, maxLength: 12 }),
        fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
        async (fates, tabs, refused) => {
          const store = memoryQueueStore();
          const server = new LossyServer(fates, (order) => refused[order - 1]!);
          const { tab, passTime } = browser(store, server);
          const both = [tab(), tab()] as const;
          await Promise.all(tabs.map((second, index) => both[second ? 1 : 0].add(command(index + 1))));
          await passTime();
          const orders = tabs.map((_, index) => index + 1);
          expect(server.applied).toEqual(orders.filter((order) => !refused[order - 1]!));
          const atTheSide = (await store.all())
            .filter((each) => each.state.kind === 'needs-you')
            .map((each) => (each.body as { order: number }).order);
          expect(atTheSide).toEqual(orders.filter((order) => refused[order - 1]!));
        },
      ),
      { numRuns: 60, seed: 1962 },
    );
  });

  it('a refused one tried again goes through when the reason is gone', async () => {
    const store = memoryQueueStore();
    let free = false;
    const server = new LossyServer([], () => !free);
    const { tab, passTime } = browser(store, server);
    const runner = tab();
    await runner.add(command(1));
    await passTime();
    expect(server.applied).toEqual([]);
    free = true;
    await runner.tryAgain('key-1');
    await passTime();
    expect(server.applied).toEqual([1]);
  });
});

describe('UUID version 7', () => {
  it('matches the example of RFC 9562, appendix A.6', () => {
    // its random bits: rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F
    const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
    expect(uuidVersion7(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
  });
});
