import type { NewCommand } from '../api/outbound-queue.js';
import { queue } from '../api/queue.js';
import type { QueuedCommand } from '../api/queue-machine.js';
import {
  closePlaceCommand,
  codeOf,
  countCommand,
  isTakenByAnother,
  lookedAtByEverybody,
  lookOf,
  takePlaceCommand,
} from './acts.js';
import { lookAnswer, type Said } from './answers.js';
import { choosePlace, leavePlace, type ModeState, type Target } from './modes.js';
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

/** Scans in the mode count: the place once, what lies there, and at last that everything there is scanned. */
export class CountingHand {
  /** a place that another person counts in, and the command that was refused for it */
  private taken: { readonly code: string; readonly key: string } | null = null;

  /** what everybody had looked at, and the command that was refused for it */
  private readonly looked = new Map<string, string>();

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

  /** What was scanned there. Whoever was told that everybody has looked, and scans it again, looks in their own name. */
  async entry(code: string, place: Target): Promise<NewCommand> {
    return countCommand(code, place, this.desk.modes().countId, await this.wasTold(lookOf(place.id, code)));
  }

  private async wasTold(look: string): Promise<boolean> {
    const key = this.looked.get(look);
    if (key === undefined) return false;
    this.looked.delete(look);
    await queue.dismiss(key);
    return true;
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
    await this.desk.inLine(async () => {
      const inOwnName = await this.wasTold(lookOf(place.id, null));
      await this.desk.keep(closePlaceCommand(place, countId, inOwnName), place.code);
    });
    this.desk.setModes(leavePlace(this.desk.modes(), Date.now()));
  }

  /** A place that somebody else counts in is joined by a second scan of it, and what everybody has looked at is counted by one. */
  settled(command: QueuedCommand): void {
    const look = lookedAtByEverybody(command);
    if (look !== null) this.looked.set(look, command.key);
    if (isTakenByAnother(command)) this.taken = { code: codeOf(command) ?? '', key: command.key };
  }
}
