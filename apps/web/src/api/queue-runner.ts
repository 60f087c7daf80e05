import {
  type Answer,
  afterAnswer,
  forgettable,
  hurry,
  nextStep,
  type Order,
  type QueuedCommand,
  repeatedBy,
  setAside,
  tryAgain,
} from './queue-machine.js';

/** Where the commands are kept. Every write is durable when its promise is fulfilled. */
export type QueueStore = {
  all(): Promise<readonly QueuedCommand[]>;
  /** gives the command its place at the end; refuses a key that is there already */
  append(command: Omit<QueuedCommand, 'order'>): Promise<QueuedCommand>;
  /** replaces the command in its place; the key may have changed */
  put(command: QueuedCommand): Promise<void>;
  remove(orders: readonly number[]): Promise<void>;
};

export type QueueSurroundings = {
  readonly store: QueueStore;
  readonly send: (command: QueuedCommand) => Promise<Answer>;
  /** runs `work` when no other tab of this browser is sending, and only then */
  readonly alone: (work: () => Promise<void>) => Promise<void>;
  readonly personId: () => string | null;
  readonly now: () => number;
  readonly chance: () => number;
  readonly freshKey: () => string;
  readonly order: Order;
  /** how many that were done are remembered */
  readonly doneKept: number;
  readonly wakeAfter: (milliseconds: number, work: () => void) => void;
  /** something changed: other tabs and the screen should look again */
  readonly changed: (settled: QueuedCommand | null) => void;
};

/** Sends what is in the store, in order, one at a time. Safe to call from every tab at any time. */
export class QueueRunner {
  private running: Promise<void> | null = null;
  private again = false;

  constructor(private readonly around: QueueSurroundings) {}

  async add(command: Omit<QueuedCommand, 'order' | 'state' | 'tries' | 'notBefore'>): Promise<QueuedCommand> {
    const added = await this.around.store.append({
      ...command,
      state: { kind: 'waiting', trouble: null },
      tries: 0,
      notBefore: 0,
    });
    this.around.changed(null);
    void this.run();
    return added;
  }

  /** Works until nothing can be sent now. A call during a run makes it look once more at its end. */
  run(): Promise<void> {
    if (this.running !== null) {
      this.again = true;
      return this.running;
    }
    this.running = this.around
      .alone(() => this.drain())
      .finally(() => {
        this.running = null;
        if (this.again) {
          this.again = false;
          void this.run();
        }
      });
    return this.running;
  }

  private async drain(): Promise<void> {
    for (;;) {
      // read anew each time: other tabs add commands, and a person may have taken one away
      const commands = await this.around.store.all();
      const step = nextStep(commands, this.around.personId(), this.around.now(), this.around.order);
      if (step.kind === 'rest') {
        await this.forget(commands);
        return;
      }
      if (step.kind === 'wait') {
        this.around.wakeAfter(Math.max(0, step.untilMilliseconds - this.around.now()), () => void this.run());
        return;
      }
      const answer = await this.around.send(step.command);
      const after = afterAnswer(step.command, answer, this.around.now(), this.around.chance());
      await this.around.store.put(after);
      const repeated = repeatedBy(after, commands);
      if (repeated.length > 0) await this.around.store.remove(repeated.map((command) => command.order));
      this.around.changed(after.state.kind === 'waiting' ? null : after);
    }
  }

  private async forget(commands: readonly QueuedCommand[]): Promise<void> {
    const old = forgettable(commands, this.around.doneKept);
    if (old.length > 0) await this.around.store.remove(old.map((command) => command.order));
  }

  /** Everything that waits is tried now. */
  hurry = () => this.change(() => true, hurry);

  setAside = (key: string) => this.change((command) => command.key === key, setAside);

  tryAgain = (key: string) =>
    this.change(
      (command) => command.key === key,
      (command) => tryAgain(command, this.around.freshKey()),
    );

  /** A person has dealt with a command at the side. */
  async dismiss(key: string): Promise<void> {
    await this.around.alone(async () => {
      const found = (await this.around.store.all()).find((command) => command.key === key);
      if (found !== undefined && found.state.kind === 'needs-you') await this.around.store.remove([found.order]);
    });
    this.around.changed(null);
  }

  /** Takes out a command that never went on the wire. False when it has been tried: then only a second command can undo it. */
  async withdraw(key: string): Promise<boolean> {
    let withdrawn = false;
    await this.around.alone(async () => {
      const found = (await this.around.store.all()).find((command) => command.key === key);
      if (found === undefined || found.state.kind !== 'waiting' || found.tries > 0) return;
      await this.around.store.remove([found.order]);
      withdrawn = true;
    });
    this.around.changed(null);
    return withdrawn;
  }

  private async change(
    chosen: (command: QueuedCommand) => boolean,
    how: (command: QueuedCommand) => QueuedCommand,
  ): Promise<void> {
    // a drain in progress holds the lock and writes the command it is sending: wait for it, or a verdict could be overwritten
    await this.around.alone(async () => {
      for (const command of await this.around.store.all()) {
        const after = how(command);
        if (chosen(command) && after !== command) await this.around.store.put(after);
      }
    });
    this.around.changed(null);
    await this.run();
  }
}
