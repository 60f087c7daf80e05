import type { LoadRow } from '@corewright/contracts/goods-in';
import type { DraftStore } from './draft-store.js';
import type { TouchedRow } from './row-acts.js';
import {
  accepted,
  beginDraft,
  conflicted,
  isSettled,
  keyed,
  prepared,
  type RowCommand,
  type RowDraft,
  refused,
  settled,
} from './row-draft.js';
import { isBlank, type RowValues, whatIsWanting } from './row-values.js';

/** What came of a command. "Unreachable" says nothing of its fate: it is repeated with the same key. */
export type SendAnswer =
  | { readonly kind: 'accepted'; readonly row: LoadRow }
  | { readonly kind: 'refused'; readonly title: string; readonly detail: string }
  | { readonly kind: 'conflict'; readonly theirs: RowValues; readonly version: number }
  | { readonly kind: 'unreachable' };

/** What a command is part of. */
export interface ActName {
  readonly id: string;
  readonly words: string;
}

/** A row as an act keys it: `base` says what the server has of it. */
export interface RowToKey {
  readonly id: string;
  readonly position: number;
  readonly values: RowValues;
  readonly base: RowDraft['base'];
}

export interface DeskTools {
  readonly loadId: string;
  readonly store: DraftStore;
  readonly send: (draft: RowDraft, command: RowCommand) => Promise<SendAnswer>;
  /** Names what was keyed but not chosen: a part number, a place. Null while the server cannot be asked. */
  readonly resolve: (values: RowValues) => Promise<RowValues | null>;
  /** Runs the work while no other tab of this browser does. */
  readonly alone: (work: () => Promise<void>) => Promise<void>;
  /** Takes the server's reading of a row into what the screen shows. */
  readonly onAccepted: (row: LoadRow) => void;
  /** A command was made for a row, as part of an act. */
  readonly onCommand: (act: ActName, row: TouchedRow) => void;
  readonly newKey: () => string;
  readonly now: () => Date;
  /** Calls back after so many milliseconds; returns what ends the waiting. */
  readonly later: (callback: () => void, delayMs: number) => () => void;
}

const RETRY_FIRST_MS = 1000;
const RETRY_MAX_MS = 15_000;

/**
 * The rows of one load that the server does not have yet, or not as keyed. One goes out at a time, in order, so that
 * codes follow the rows; each command keeps its key until it has been answered.
 */
export class DraftDesk {
  private drafts: readonly RowDraft[] = [];
  private readonly listeners = new Set<() => void>();
  private isSending = false;
  private sendingId: string | null = null;
  private retryDelayMs = RETRY_FIRST_MS;
  private endWaiting: (() => void) | null = null;

  constructor(private readonly tools: DeskTools) {}

  readonly snapshot = (): readonly RowDraft[] => this.drafts;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Takes over what the browser's store holds; the row at hand (`keep`) and one on its way from here stay as they are. */
  async takeOver(keep: string | null): Promise<void> {
    const stored = await this.tools.store.list(this.tools.loadId);
    const isOurs = (draft: RowDraft) => draft.id === keep || draft.id === this.sendingId;
    this.show([...stored.filter((draft) => !isOurs(draft)), ...this.drafts.filter(isOurs)]);
    void this.pump();
    if (keep === null) void this.lookUpAgain();
  }

  find(id: string): RowDraft | undefined {
    return this.drafts.find((draft) => draft.id === id);
  }

  /** Something was keyed into a row. `begin` says what the row was when there is no draft of it yet. */
  key(id: string, values: RowValues, begin: { position: number; base: RowDraft['base'] }): void {
    const draft = this.find(id) ?? beginDraft({ id, loadId: this.tools.loadId, values, ...begin });
    this.keep(keyed(draft, values));
  }

  /**
   * Sends a row as far as it can go. A blank one is forgotten; one that lacks something stays and says so on the screen.
   * It is an act of its own unless `act` says what it is part of; null leaves it out of the acts.
   */
  async save(id: string, act?: ActName | null): Promise<void> {
    await this.makeReady(id, act);
    await this.pump();
  }

  /**
   * Keys and sends several rows as one act, in their order, after the row that they follow from. All are kept on this device
   * before the first goes out.
   */
  async saveAll(words: string, rows: readonly RowToKey[], from: string | null = null): Promise<void> {
    const act = { id: this.tools.newKey(), words };
    for (const { id, values, ...begin } of rows) this.key(id, values, begin);
    if (from !== null) await this.makeReady(from);
    for (const { id } of rows) await this.save(id, act);
  }

  /** Forgets a row that the server was never told of. */
  drop(id: string): void {
    const draft = this.find(id);
    if (draft?.base === null && draft.command === null) this.forget(id);
  }

  private async makeReady(id: string, act?: ActName | null): Promise<void> {
    const draft = this.find(id);
    if (draft === undefined) return;
    if (draft.base === null && draft.command === null && isBlank(draft.values)) return this.forget(id);
    if (isSettled(draft)) return this.forget(id);
    const values = await this.tools.resolve(draft.values);
    const current = this.find(id);
    if (current === undefined) return;
    if (values === null) return this.keep({ ...current, awaitsLookup: true });
    const named = current.values === draft.values ? { ...current, values } : current;
    const ready =
      whatIsWanting(named.values) === null
        ? prepared(named, { key: this.tools.newKey(), madeAt: this.tools.now().toISOString() })
        : named;
    this.keep(ready);
    if (ready.command === null || ready.command === named.command || act === null) return;
    const ofItsOwn = { id: ready.command.key, words: `row ${ready.position}` };
    this.tools.onCommand(act ?? ofItsOwn, { id, before: ready.base?.values ?? null });
  }

  /** Takes back what was keyed since the row was last saved. A command that is on its way is not taken back. */
  undo(id: string): void {
    const draft = this.find(id);
    if (draft === undefined) return;
    if (draft.command === null) this.forget(id);
    else this.keep({ ...draft, values: draft.command.values });
  }

  settle(id: string, choice: 'mine' | 'theirs'): void {
    const draft = this.find(id);
    if (draft === undefined) return;
    this.keep(settled(draft, choice));
    void this.save(id);
  }

  /** The network is back: what waits goes out at once, and what could not be looked up is looked up. */
  retryNow(): void {
    this.retryDelayMs = RETRY_FIRST_MS;
    this.endWaiting?.();
    this.endWaiting = null;
    void this.pump().then(() => this.lookUpAgain());
  }

  /** In the order of the rows, so that codes follow them. Another tab that was quicker has left its command in the store. */
  private async lookUpAgain(): Promise<void> {
    if (!this.drafts.some((draft) => draft.awaitsLookup)) return;
    await this.tools.alone(async () => {
      const stored = await this.tools.store.list(this.tools.loadId);
      const awaiting = stored.filter((draft) => draft.awaitsLookup).toSorted((one, other) => one.position - other.position);
      for (const { id } of awaiting) await this.makeReady(id);
    });
    await this.pump();
  }

  /** The screen is left: nothing is tried again until rows are taken over anew. */
  rest(): void {
    this.endWaiting?.();
    this.endWaiting = null;
  }

  private async pump(): Promise<void> {
    if (this.isSending || this.endWaiting !== null) return;
    this.isSending = true;
    try {
      for (let next = this.nextToSend(); next !== undefined; next = this.nextToSend()) {
        if (!(await this.sendOne(next.draft, next.command))) return this.waitAndRetry();
        this.retryDelayMs = RETRY_FIRST_MS;
      }
    } finally {
      this.isSending = false;
    }
  }

  private nextToSend(): { draft: RowDraft; command: RowCommand } | undefined {
    for (const draft of this.drafts) {
      if (draft.command !== null) return { draft, command: draft.command };
    }
    return undefined;
  }

  /** True when the command was answered, whatever the answer. */
  private async sendOne(sent: RowDraft, command: RowCommand): Promise<boolean> {
    this.sendingId = sent.id;
    const answer = await this.tools.send(sent, command);
    this.sendingId = null;
    const draft = this.find(sent.id);
    if (answer.kind === 'unreachable') return false;
    if (draft === undefined) return true;
    if (answer.kind === 'refused') this.keep(refused(draft, answer));
    if (answer.kind === 'conflict') this.keep(conflicted(draft, answer.theirs, answer.version));
    if (answer.kind === 'accepted') {
      this.tools.onAccepted(answer.row);
      const after = accepted(draft, answer.row.version);
      if (isSettled(after)) this.forget(after.id);
      else this.keep(prepared(after, { key: this.tools.newKey(), madeAt: this.tools.now().toISOString() }));
    }
    return true;
  }

  private waitAndRetry(): void {
    this.endWaiting = this.tools.later(() => {
      this.endWaiting = null;
      void this.pump();
    }, this.retryDelayMs);
    this.retryDelayMs = Math.min(RETRY_MAX_MS, this.retryDelayMs * 2);
  }

  private keep(draft: RowDraft): void {
    this.show([...this.drafts.filter((other) => other.id !== draft.id), draft]);
    void this.tools.store.put(draft);
  }

  private forget(id: string): void {
    const draft = this.find(id);
    if (draft === undefined) return;
    this.show(this.drafts.filter((other) => other.id !== id));
    void this.tools.store.remove(draft);
  }

  private show(drafts: readonly RowDraft[]): void {
    this.drafts = drafts.toSorted((one, other) => one.position - other.position);
    for (const listener of this.listeners) listener();
  }
}
