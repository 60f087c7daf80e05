import type { NewCommand } from '../api/outbound-queue.js';
import { queue } from '../api/queue.js';
import type { QueuedCommand } from '../api/queue-machine.js';
import { actOf, outcomeOf, sayCode, takeBackCommand, withQuantity } from './acts.js';
import { hadNotLeft, keptHere, nothingToTakeBack, notNone, ofNoScan, type Said, unanswered, wasRefused } from './answers.js';

/** What the last act needs of the desk at which it was scanned. */
export type ActingDeskParts = {
  /** digits keyed after a scan, not yet taken */
  readonly keyed: () => string;
  readonly setKeyed: (keyed: string) => void;
  /** whether the answer that stands is a refusal */
  readonly isRefused: () => boolean;
  readonly say: (said: Said) => void;
  /** shows again what the server decided */
  readonly settled: (command: QueuedCommand) => void;
  /** does its work after all scans that came before; where it fails, that is said of the code */
  readonly inLine: (code: string, work: () => Promise<void>) => void;
};

type Correctable = {
  readonly key: string;
  readonly code: string;
  readonly command: NewCommand;
  readonly at: number;
  /** whoever counts two hundred washers takes longer over it than over a pick */
  readonly isCount: boolean;
};

/** A quantity keyed later than this after its scan is not meant for it. */
const correctionMilliseconds = 30_000;
const quantityPauseMilliseconds = 1_500;
const decisionMilliseconds = 1_500;

/** The last act of this device: digits after its scan correct its quantity, and it is taken back. */
export class LastAct {
  private last: Correctable | null = null;
  private quantityTimer: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly desk: ActingDeskParts) {}

  /** Keeps an act for the server; it is the last one from now on. */
  async act(command: NewCommand, code: string): Promise<void> {
    const kept = await queue.add(command);
    this.last = { key: kept.key, code, command, at: Date.now(), isCount: actOf(kept) === 'count' };
    this.desk.say(keptHere(code, kept));
  }

  /** What comes next is no act that is corrected or taken back. */
  forget(): void {
    this.last = null;
  }

  isOf(key: string): boolean {
    return this.last?.key === key;
  }

  // ------------------------------------------------------------------ digits after a scan

  /** A lone key outside every field. */
  loneKey(key: string): void {
    const keyed = this.desk.keyed();
    if (key === 'Escape') this.setQuantity('');
    if (key === 'Backspace') this.setQuantity(keyed.slice(0, -1));
    if (/^[0-9.]$/.test(key) && this.canCorrect()) this.setQuantity(keyed + key);
  }

  /** Takes the digits that were keyed, if any, as the quantity of the last scan. */
  takeQuantity(): void {
    const keyed = this.desk.keyed();
    if (keyed === '') return;
    this.setQuantity('');
    const { last } = this;
    if (Number(keyed) === 0 && last?.isCount !== true) this.desk.say(notNone);
    else if (last === null || !this.canCorrect()) this.desk.say(ofNoScan(keyed));
    else this.desk.inLine(last.code, () => this.correct(last, keyed));
  }

  private canCorrect(): boolean {
    const { last } = this;
    if (last === null || this.desk.isRefused() || actOf(last.command) === null) return false;
    return last.isCount || Date.now() - last.at < correctionMilliseconds;
  }

  private setQuantity(keyed: string): void {
    if (this.quantityTimer !== null) clearTimeout(this.quantityTimer);
    this.desk.setKeyed(keyed);
    this.quantityTimer = keyed === '' ? null : setTimeout(() => this.takeQuantity(), quantityPauseMilliseconds);
  }

  private async correct(last: Correctable, quantity: string): Promise<void> {
    // the last number of a person stands: nothing is taken back
    if (!(await queue.withdraw(last.key)) && !last.isCount) {
      const settled = await decidedSoon(last.key);
      if (settled === null) return this.desk.say(unanswered(last.code));
      const outcome = outcomeOf(settled);
      if (outcome.actId === null) return;
      if (outcome.quantity === quantity) return this.desk.settled(settled);
      await queue.add(takeBackCommand(outcome.actId, sayCode(last.code), `quantity corrected to ${quantity}`));
    }
    await this.act(withQuantity(last.command, quantity), last.code);
  }

  // ------------------------------------------------------------------ taking back

  /** Takes back the last act of this device that still stands. */
  async takeBackLast(): Promise<void> {
    const { last } = this;
    if (last === null) return this.desk.say(nothingToTakeBack);
    this.last = null;
    if (await queue.withdraw(last.key)) return this.desk.say(hadNotLeft(last.code, sayCode(last.code)));
    const settled = await decidedSoon(last.key);
    if (settled === null) {
      this.last = last;
      return this.desk.say(unanswered(last.code));
    }
    const outcome = outcomeOf(settled);
    if (outcome.undo !== undefined) return this.undo(outcome.undo, last.code, outcome.title);
    if (outcome.actId === null) return this.desk.say(wasRefused(last.code));
    await this.takeBack(outcome.actId, last.code, outcome.title, last.isCount);
  }

  takeBack(actId: string, code: string, title: string, isCount = false): Promise<void> {
    return this.undo(takeBackCommand(actId, sayCode(code), 'scanned by mistake', isCount ? 'count' : null), code, title);
  }

  private async undo(undoing: NewCommand, code: string, title: string): Promise<void> {
    const command = await queue.add(undoing);
    this.desk.say({
      code,
      tone: 'under way',
      word: 'Taking back',
      title,
      detail: 'Kept on this device; waiting for the server.',
      key: command.key,
    });
  }
}

/** The command when the server has decided it within a few seconds; those behind it are not held up for longer. */
async function decidedSoon(key: string): Promise<QueuedCommand | null> {
  const later = new Promise<null>((resolve) => setTimeout(() => resolve(null), decisionMilliseconds));
  return Promise.race([queue.settled(key), later]);
}
