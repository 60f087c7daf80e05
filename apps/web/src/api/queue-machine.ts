import type { Method } from './client.js';

/** The rules of the outbound queue, without a clock, a network or a store: what is sent next, and what an answer does. */

export type QueuedCommand = {
  /** the Idempotency-Key: the same on every try, so that the server does it once */
  readonly key: string;
  /** the order of making; the sender keeps to it */
  readonly order: number;
  /** who made it: it is never sent in another person's name */
  readonly personId: string;
  readonly madeAt: string;
  readonly method: Method;
  readonly path: string;
  readonly body: unknown;
  readonly ifMatch?: string;
  /** what it does, for the person who sees it wait: "Fit L 000412 71" */
  readonly words: string;
  readonly state: CommandState;
  /** tries that got no verdict so far */
  readonly tries: number;
  /** no try before this instant, in Unix milliseconds */
  readonly notBefore: number;
};

export type CommandState =
  | { readonly kind: 'waiting'; readonly trouble: string | null }
  | { readonly kind: 'needs-you'; readonly reason: Refusal; readonly outcomeKnown: boolean }
  | { readonly kind: 'done'; readonly status: number; readonly body: unknown };

export type Refusal = {
  readonly status: number;
  readonly code: string;
  readonly title: string;
  readonly detail: string;
  readonly values: Readonly<Record<string, unknown>>;
  readonly correlationId: string | null;
};

export type Answer =
  | { readonly kind: 'silence' }
  /** something must happen here first; where the server said so, the key is spent on that answer and another is needed */
  | { readonly kind: 'held back'; readonly why: string; readonly freshKey: string | null }
  | {
      readonly kind: 'answered';
      readonly status: number;
      readonly body: unknown;
      readonly refusal: Refusal | null;
      readonly retryAfterMilliseconds: number | null;
    };

export type NextStep =
  | { readonly kind: 'send'; readonly command: QueuedCommand }
  | { readonly kind: 'wait'; readonly untilMilliseconds: number }
  | { readonly kind: 'rest' };

const firstDelayMilliseconds = 1_000;
const longestDelayMilliseconds = 60_000;
/** A server that fails on one command again and again has a fault in it: the command steps aside for those behind it. */
const faultTriesMax = 6;

/** Whether a command that must wait holds back those behind it: scans keep their order, photographs need none. */
export type Order = 'in order' | 'in any order';

/** The oldest waiting command of this person, when its time has come; in any order, the oldest whose time has come. */
export function nextStep(
  commands: readonly QueuedCommand[],
  personId: string | null,
  nowMilliseconds: number,
  order: Order = 'in order',
): NextStep {
  if (personId === null) return { kind: 'rest' };
  const mine = commands
    .filter((command) => command.state.kind === 'waiting' && command.personId === personId)
    .toSorted((one, other) => one.order - other.order);
  const [head] = order === 'in order' ? mine : mine.toSorted((one, other) => waitOf(one) - waitOf(other));
  if (head === undefined) return { kind: 'rest' };
  return head.notBefore > nowMilliseconds ? { kind: 'wait', untilMilliseconds: head.notBefore } : { kind: 'send', command: head };

  function waitOf(command: QueuedCommand): number {
    return Math.max(0, command.notBefore - nowMilliseconds);
  }
}

/** Whether the server gave no verdict: silence, its own trouble, a lock, haste, or a session that has run out. */
function undecided(answer: Answer): boolean {
  if (answer.kind !== 'answered') return true;
  return answer.status >= 500 || [401, 408, 425, 429].includes(answer.status);
}

/**
 * How long to wait after so many tries without a verdict: doubling from a second to a minute, scattered over
 * the upper half, so that the tablets of a shop do not all come back in one beat.
 * @param chance a random number from 0 up to 1
 */
export function delayMilliseconds(tries: number, chance: number): number {
  const ceiling = Math.min(longestDelayMilliseconds, firstDelayMilliseconds * 2 ** Math.max(0, tries - 1));
  return Math.round(ceiling * (0.5 + chance / 2));
}

/** The command after an answer. A verdict settles it; anything else makes it wait longer, in its place. */
export function afterAnswer(command: QueuedCommand, answer: Answer, nowMilliseconds: number, chance: number): QueuedCommand {
  if (command.state.kind !== 'waiting') throw new Error(`An answer came for a command that is ${command.state.kind}`);
  const tries = command.tries + 1;
  if (answer.kind === 'answered' && answer.status === 500 && tries >= faultTriesMax && answer.refusal !== null) {
    return { ...command, tries, state: { kind: 'needs-you', reason: answer.refusal, outcomeKnown: false } };
  }
  if (undecided(answer)) {
    const asked = answer.kind === 'answered' ? answer.retryAfterMilliseconds : null;
    const notBefore = nowMilliseconds + Math.max(asked ?? 0, delayMilliseconds(tries, chance));
    const key = answer.kind === 'held back' ? (answer.freshKey ?? command.key) : command.key;
    return { ...command, key, tries, notBefore, state: { kind: 'waiting', trouble: troubleOf(answer) } };
  }
  if (answer.kind !== 'answered') throw new Error('Only an answer is a verdict');
  if (answer.refusal !== null)
    return { ...command, tries, state: { kind: 'needs-you', reason: answer.refusal, outcomeKnown: true } };
  return { ...command, tries, state: { kind: 'done', status: answer.status, body: answer.body } };
}

function troubleOf(answer: Answer): string {
  if (answer.kind === 'silence') return 'no network';
  if (answer.kind === 'held back') return answer.why;
  if (answer.status === 401) return 'sign in again';
  if (answer.status === 429) return 'the server asks for patience';
  return `the server is in trouble (${answer.status})`;
}

/** The network is back, or a person says "now": everything that waits may be tried at once. */
export function hurry(command: QueuedCommand): QueuedCommand {
  return command.state.kind === 'waiting' ? { ...command, notBefore: 0 } : command;
}

/** A person takes a stuck command out of the way so that those behind it go. It may or may not have been done. */
export function setAside(command: QueuedCommand): QueuedCommand {
  if (command.state.kind !== 'waiting') return command;
  const reason: Refusal = {
    status: 0,
    code: 'set-aside',
    title: 'Put at the side by hand',
    detail: `It was tried ${command.tries} times without a verdict. Trying again is harmless: the server does it once.`,
    values: {},
    correlationId: null,
  };
  return { ...command, state: { kind: 'needs-you', reason, outcomeKnown: false } };
}

/**
 * A command at the side is tried again, in its old place. Where the server's verdict is known, its key is spent
 * (the server gives the same verdict for it for ever), so a new one is needed.
 */
export function tryAgain(command: QueuedCommand, freshKey: string): QueuedCommand {
  if (command.state.kind !== 'needs-you') return command;
  const key = command.state.outcomeKnown ? freshKey : command.key;
  return { ...command, key, tries: 0, notBefore: 0, state: { kind: 'waiting', trouble: null } };
}

/** Earlier refusals of the very same act for the same reason: whoever scans a thing again has one decision to make, not two. */
export function repeatedBy(refused: QueuedCommand, commands: readonly QueuedCommand[]): readonly QueuedCommand[] {
  const act = refusedAct(refused);
  if (act === null) return [];
  return commands.filter((other) => other.order < refused.order && refusedAct(other) === act);
}

/** What was refused, but for when it was made; null for what was not. */
function refusedAct({ state, personId, method, path, body }: QueuedCommand): string | null {
  if (state.kind !== 'needs-you' || !state.outcomeKnown) return null;
  const { occurredAt: _when, ...rest } = typeof body === 'object' && body !== null ? (body as Record<string, unknown>) : {};
  return JSON.stringify([personId, method, path, rest, state.reason.code]);
}

/** Settled commands beyond the newest `kept`: they may be forgotten. What waits or needs a person is never among them. */
export function forgettable(commands: readonly QueuedCommand[], kept: number): readonly QueuedCommand[] {
  const done = commands.filter((command) => command.state.kind === 'done').sort((a, b) => b.order - a.order);
  return done.slice(kept);
}
