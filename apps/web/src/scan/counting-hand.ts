import type { NewCommand } from '../api/outbound-queue.js';
import { queue } from '../api/queue.js';
import type { QueuedCommand } from '../api/queue-machine.js';
import { closePlaceCommand, codeOf, isTakenByAnother, takePlaceCommand } from './acts.js';
import { lookAnswer, type Said } from './answers.js';
import { choosePlace, leavePlace, type ModeState } from './modes.js';
import { resolve, targetOf } from './resolve.js';

/** What counting needs of the desk at which is scanned. */
export type CountingDeskParts = {
  readonly modes: () => ModeState;
  readonly setModes: (modes: ModeState) => void;
  readonly say: (said: Said) => void;
  /** keeps a command until the server has decided on it */
  readonly keep: (command: NewCommand, code: string) => Promise<void>;
  /** does its work after all scans that came before */
  readonly inLine: (work: () => Promise<void>) => Promise<void>;
};

/** Scans in the mode count: the place once, and at last that everything there is scanned. */
export class CountingHand {
  /** a place that another person counts in, and the command that was refused for it */
  private taken: { readonly code: string; readonly key: string } | null = null;

  constructor(private readonly desk: CountingDeskParts) {}

  /** The place at which is counted now. What the server knows of it is not shown: a count is blind. */
  async at(code: string): Promise<void> {
    const { answer } = await resolve(code);
    if (answer.voided) return this.desk.say(lookAnswer(answer, false));
    const place = { ...targetOf(answer), detail: '' };
    const modes = this.desk.modes();
    this.desk.setModes(choosePlace(modes, place, Date.now()));
    const joins = this.taken?.code === code ? this.taken : null;
    await this.desk.keep(takePlaceCommand(place, modes.countId, joins !== null), code);
    if (joins === null) return;
    this.taken = null;
    await queue.dismiss(joins.key);
  }

  async allScanned(): Promise<void> {
    const { mode, place, countId } = this.desk.modes();
    if (mode !== 'count' || place === null)
      return this.desk.say({
        code: null,
        tone: 'refused',
        word: 'Not done',
        title: 'No place is being counted',
        detail: 'Choose the mode “count”, scan the place, then what lies there. Nothing was changed.',
        key: null,
      });
    await this.desk.inLine(() => this.desk.keep(closePlaceCommand(place, countId), place.code));
    this.desk.setModes(leavePlace(this.desk.modes(), Date.now()));
  }

  /** A place that somebody else counts in is joined by a second scan of it. */
  settled(command: QueuedCommand): void {
    if (isTakenByAnother(command)) this.taken = { code: codeOf(command) ?? '', key: command.key };
  }
}
