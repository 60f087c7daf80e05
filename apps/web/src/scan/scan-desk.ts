import { type ParsedCode, parseCode } from '@corewright/codes/label-code';
import { AlikeLie } from '@corewright/contracts/places';
import type { CommandCard } from '@corewright/contracts/scanning';
import { api } from '../api/client.js';
import type { NewCommand } from '../api/outbound-queue.js';
import { asProblem } from '../api/problem.js';
import { queue } from '../api/queue.js';
import type { QueuedCommand } from '../api/queue-machine.js';
import { actOf, codeOf, outcomeOf, sayCode, scanCommand, takeBackCommand, withQuantity } from './acts.js';
import {
  type Answer,
  backToLook,
  blankPath,
  faultAnswer,
  hadNotLeft,
  keptHere,
  lookAnswer,
  noChoice,
  nothingToTakeBack,
  notNone,
  ofNoScan,
  type Said,
  unanswered,
  unclearScan,
  wasRefused,
} from './answers.js';
import { CountingHand } from './counting-hand.js';
import { keepModes, recallModes } from './mode-shelf.js';
import {
  afterIdling,
  chooseCount,
  chooseJob,
  chooseMode,
  choosePlace,
  type Intent,
  intentOf,
  type Mode,
  type ModeState,
  ruleOf,
  touch,
} from './modes.js';
import { offerOf, type PlaceOffer } from './place-offer.js';
import { pathOf, resolve, targetOf } from './resolve.js';

export type DeskState = {
  readonly modes: ModeState;
  readonly answer: Answer | null;
  /** digits keyed after a scan, not yet taken */
  readonly keyedQuantity: string;
  /** what else may have been meant by the place that was just scanned */
  readonly offer: PlaceOffer | null;
};

/** A screen that wants scans for itself. True when it took this one. */
export type ScanTaker = (parsed: ParsedCode) => boolean;
/** A screen that chooses by command card, of which there are three, or by the keys 1 to 9. True when there was such a choice. */
export type ChoiceTaker = (choice: number) => boolean;

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

/** The one scanning service of a tab: every scan of every screen comes through `scan`. */
export class ScanDesk {
  private state: DeskState = { modes: recallModes(), answer: null, keyedQuantity: '', offer: null };
  private readonly listeners = new Set<() => void>();
  private readonly takers: ScanTaker[] = [];
  private readonly choosers: ChoiceTaker[] = [];
  private correctable: Correctable | null = null;
  private readonly counting = new CountingHand({
    modes: () => this.state.modes,
    setModes: (modes) => this.set({ modes }),
    say: (said) => this.say(said),
    keep: (command, code) => this.keep(command, code),
    inLine: (work) => {
      this.line = this.line.then(work);
      return this.line;
    },
  });
  private quantityTimer: ReturnType<typeof setTimeout> | null = null;
  private turn = 0;
  /** scans are answered in their order, however fast they come */
  private line: Promise<void> = Promise.resolve();

  constructor(private readonly go: (path: string) => void) {}

  readonly get = (): DeskState => this.state;
  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  private set(change: Partial<DeskState>): void {
    this.state = { ...this.state, ...change };
    if (change.modes !== undefined) keepModes(change.modes);
    for (const listener of this.listeners) listener();
  }

  private say(answer: Said): void {
    this.turn += 1;
    this.set({
      answer: { ...answer, turn: this.turn, at: Date.now(), canBeCorrected: false, canBeTakenBack: false },
      offer: null,
    });
  }

  take(taker: ScanTaker): () => void {
    this.takers.push(taker);
    return () => void this.takers.splice(this.takers.indexOf(taker), 1);
  }

  takeChoices(taker: ChoiceTaker): () => void {
    this.choosers.push(taker);
    return () => void this.choosers.splice(this.choosers.indexOf(taker), 1);
  }

  /** Called as time passes: a mode that moves stock does not outlive its use. */
  readonly idle = (): void => {
    const modes = afterIdling(this.state.modes, Date.now());
    if (modes === this.state.modes) return;
    this.set({ modes });
    this.say(backToLook);
  };

  readonly choose = (mode: Mode): void => {
    this.set({ modes: chooseMode(this.state.modes, mode, Date.now()) });
    const job = mode === 'pick' || mode === 'fit' ? this.state.modes.job : null;
    const onto = job === null ? ruleOf(mode).words : `Onto ${sayCode(job.code)}, ${job.name}. Another job card changes it.`;
    this.say({ code: null, tone: 'plain', word: ruleOf(mode).mode, title: onto, detail: '', key: null });
  };

  /** What was keyed into the scan field: a code, or after a scan its quantity. */
  readonly key = (text: string): void => {
    if (/^\d{1,6}([.,]\d{1,4})?$/.test(text.trim())) {
      this.set({ keyedQuantity: text.trim().replace(',', '.') });
      this.takeQuantity();
      return;
    }
    const parsed = parseCode(text);
    if (parsed.ok) this.scan(parsed.value);
    else
      this.say({
        code: text.trim(),
        tone: 'refused',
        word: 'Not read',
        title: parsed.error.message,
        detail: 'Nothing was changed.',
        key: null,
      });
  };

  readonly unclear = (): void => this.say(unclearScan);

  readonly scan = (parsed: ParsedCode): void => {
    this.takeQuantity();
    const now = Date.now();
    this.set({ modes: touch(afterIdling(this.state.modes, now), now) });
    const taker = parsed.kind === 'K' ? undefined : this.takers.at(-1);
    if (taker?.(parsed) === true) return;
    const intent = intentOf(this.state.modes, parsed);
    // what a scan means is settled by the mode at the moment of the scan, whatever is chosen while others wait
    this.line = this.line.then(() => this.follow(intent, parsed)).catch((thrown: unknown) => this.fault(parsed.code, thrown));
  };

  private async follow(intent: Intent, parsed: ParsedCode): Promise<void> {
    switch (intent.kind) {
      case 'command':
        return this.obey(intent.command);
      case 'cannot':
        this.say({
          code: parsed.code,
          tone: 'refused',
          word: 'Not done',
          title: intent.title,
          detail: intent.detail,
          key: null,
        });
        if (intent.seeksPlace === true) void this.addWhereAlikeLie(parsed.code, this.turn);
        return;
      case 'look':
        return this.look(parsed.code);
      case 'choose-job':
      case 'choose-place':
        return this.chooseTarget(intent.kind, parsed.code);
      case 'count-place':
        return this.counting.at(parsed.code);
      case 'act':
        return this.act(
          intent.act === 'count'
            ? await this.counting.entry(parsed.code, intent.onto)
            : scanCommand(intent.act, parsed.code, intent.onto),
          parsed.code,
        );
    }
  }

  private obey(command: CommandCard): void {
    if (command === 'choice 1' || command === 'choice 2' || command === 'choice 3') {
      this.makeChoice(Number(command.at(-1)) as 1 | 2 | 3);
    } else if (command === 'take back') {
      void this.takeBackLast();
    } else if (command === 'all is scanned') {
      void this.allScanned();
    } else {
      this.choose(command);
    }
  }

  /** Adds to an answer, while it still stands, where things like the one in the hand lie. Without an answer it stays as it is. */
  private async addWhereAlikeLie(code: string, turn: number): Promise<void> {
    try {
      const { answer } = await resolve(code);
      const { words } = await api.get(AlikeLie, `/api/things/${answer.id}/alike`);
      const standing = this.state.answer;
      if (words === '' || standing === null || standing.turn !== turn) return;
      this.set({ answer: { ...standing, title: `${answer.name}: ${standing.title}`, detail: `${standing.detail} ${words}` } });
    } catch {
      // a hint that does not come is not missed
    }
  }

  readonly makeChoice = (choice: 1 | 2 | 3): void => {
    if (this.meant(choice)) return;
    const taken = [...this.choosers].reverse().some((chooser) => chooser(choice));
    if (!taken) this.say(noChoice(choice));
  };

  /** The place that was scanned last was meant otherwise. True when there was such a choice. */
  readonly meant = (choice: number): boolean => {
    const { offer, modes } = this.state;
    const chosen = offer?.choices[choice - 1];
    if (offer === null || chosen === undefined) return false;
    this.set({ offer: null, modes: choosePlace(modes, offer.onto, Date.now()) });
    this.line = this.line
      .then(() => this.act(chosen.command, offer.scanned.code))
      .catch((thrown: unknown) => this.fault(offer.scanned.code, thrown));
    return true;
  };

  private async look(code: string): Promise<void> {
    const { answer, fromMemory } = await resolve(code).catch((thrown: unknown) => {
      if (asProblem(thrown).code === 'code-blank') this.go(blankPath(code));
      throw thrown;
    });
    this.say(lookAnswer(answer, fromMemory));
    const path = pathOf(answer);
    if (path !== null) this.go(path);
  }

  private async chooseTarget(kind: 'choose-job' | 'choose-place', code: string): Promise<void> {
    const { answer } = await resolve(code);
    if (answer.voided) return this.say(lookAnswer(answer, false));
    const now = Date.now();
    const target = targetOf(answer);
    const offer = kind === 'choose-place' ? offerOf(target, this.state.modes.place, answer.quantity) : null;
    const modes = kind === 'choose-job' ? chooseJob(this.state.modes, target, now) : choosePlace(this.state.modes, target, now);
    this.set({ modes });
    this.say({
      code,
      tone: 'done',
      word: kind === 'choose-job' ? 'This job' : 'This place',
      title: answer.name,
      detail: [answer.detail, offer?.barred].filter(Boolean).join('. '),
      key: null,
    });
    this.set({ offer });
  }

  // ------------------------------------------------------------------ counting

  /** Scans count in this count from now on. */
  readonly countIn = (countId: string): void => {
    this.set({ modes: chooseCount(this.state.modes, countId, Date.now()) });
    this.say({ code: null, tone: 'plain', word: 'count', title: ruleOf('count').words, detail: '', key: null });
  };

  /** Nothing else lies at the place: what the books have there and nobody scanned is missing. */
  readonly allScanned = async (): Promise<void> => {
    this.takeQuantity();
    await this.counting.allScanned();
  };

  private async keep(command: NewCommand, code: string): Promise<void> {
    this.correctable = null;
    const kept = await queue.add(command);
    this.say(keptHere(code, kept));
  }

  private async act(command: NewCommand, code: string): Promise<void> {
    const kept = await queue.add(command);
    this.correctable = { key: kept.key, code, command, at: Date.now(), isCount: actOf(kept) === 'count' };
    this.say(keptHere(code, kept));
  }

  /** A command that the server has decided; it speaks only if nothing newer does. */
  readonly settled = (command: QueuedCommand): void => {
    this.counting.settled(command);
    if (this.state.answer?.key !== command.key) return;
    const outcome = outcomeOf(command);
    const refused = command.state.kind === 'needs-you';
    this.set({
      answer: {
        ...this.state.answer,
        tone: refused ? 'refused' : 'done',
        word: outcome.word,
        title: outcome.title,
        detail: outcome.detail,
        canBeCorrected: outcome.actId !== null && outcome.quantity !== null,
        canBeTakenBack: this.correctable?.key === command.key && (outcome.actId !== null || outcome.undo !== undefined),
      },
    });
  };

  // ------------------------------------------------------------------ digits after a scan

  /** A lone key outside every field: a digit corrects the last quantity, or chooses where something waits for a choice. */
  readonly loneKey = (key: string): void => {
    if (/^[1-9]$/.test(key) && this.state.keyedQuantity === '') {
      if (this.meant(Number(key))) return;
      if ([...this.choosers].reverse().some((chooser) => chooser(Number(key)))) return;
    }
    if (key === 'Escape') this.setQuantity('');
    if (key === 'Backspace') this.setQuantity(this.state.keyedQuantity.slice(0, -1));
    if (/^[0-9.]$/.test(key) && this.canCorrect()) this.setQuantity(this.state.keyedQuantity + key);
  };

  readonly enter = (): boolean => {
    if (this.state.keyedQuantity === '') return false;
    this.takeQuantity();
    return true;
  };

  private canCorrect(): boolean {
    const refused = this.state.answer?.tone === 'refused';
    const last = this.correctable;
    if (last === null || refused || actOf(last.command) === null) return false;
    return last.isCount || Date.now() - last.at < correctionMilliseconds;
  }

  private setQuantity(keyed: string): void {
    if (this.quantityTimer !== null) clearTimeout(this.quantityTimer);
    this.set({ keyedQuantity: keyed });
    this.quantityTimer = keyed === '' ? null : setTimeout(() => this.takeQuantity(), quantityPauseMilliseconds);
  }

  private takeQuantity(): void {
    const keyed = this.state.keyedQuantity;
    if (keyed === '') return;
    this.setQuantity('');
    const last = this.correctable;
    if (Number(keyed) === 0 && last?.isCount !== true) {
      this.say(notNone);
      return;
    }
    if (last === null || !this.canCorrect()) {
      this.say(ofNoScan(keyed));
      return;
    }
    this.line = this.line.then(() => this.correct(last, keyed)).catch((thrown: unknown) => this.fault(last.code, thrown));
  }

  private async correct(last: Correctable, quantity: string): Promise<void> {
    // the last number of a person stands: nothing is taken back
    if (!(await queue.withdraw(last.key)) && !last.isCount) {
      const settled = await decidedSoon(last.key);
      if (settled === null) return this.sayUnanswered(last.code);
      const outcome = outcomeOf(settled);
      if (outcome.actId === null) return;
      if (outcome.quantity === quantity) return this.settled(settled);
      await queue.add(takeBackCommand(outcome.actId, sayCode(last.code), `quantity corrected to ${quantity}`));
    }
    await this.act(withQuantity(last.command, quantity), last.code);
  }

  // ------------------------------------------------------------------ taking back

  /** Takes back the last act of this device that still stands. */
  readonly takeBackLast = async (): Promise<void> => {
    const last = this.correctable;
    if (last === null) {
      this.say(nothingToTakeBack);
      return;
    }
    this.correctable = null;
    if (await queue.withdraw(last.key)) {
      this.say(hadNotLeft(last.code, sayCode(last.code)));
      return;
    }
    const settled = await decidedSoon(last.key);
    if (settled === null) {
      this.correctable = last;
      return this.sayUnanswered(last.code);
    }
    const outcome = outcomeOf(settled);
    if (outcome.undo !== undefined) return this.undo(outcome.undo, last.code, outcome.title);
    if (outcome.actId === null) {
      this.say(wasRefused(last.code));
      return;
    }
    await this.takeBack(outcome.actId, last.code, outcome.title, last.isCount);
  };

  private sayUnanswered(code: string): void {
    this.say(unanswered(code));
  }

  readonly takeBack = (actId: string, code: string, title: string, isCount = false): Promise<void> =>
    this.undo(takeBackCommand(actId, sayCode(code), 'scanned by mistake', isCount ? 'count' : null), code, title);

  private async undo(undoing: NewCommand, code: string, title: string): Promise<void> {
    const command = await queue.add(undoing);
    this.say({
      code,
      tone: 'under way',
      word: 'Taking back',
      title,
      detail: 'Kept on this device; waiting for the server.',
      key: command.key,
    });
  }

  /** A decision about a refused scan goes out as a scan of its own, and speaks in the strip like one. */
  readonly decide = async (refused: QueuedCommand, decided: NewCommand): Promise<void> => {
    await this.act(decided, codeOf(refused) ?? '');
    await queue.dismiss(refused.key);
  };

  private fault(code: string, thrown: unknown): void {
    this.say(faultAnswer(code, thrown));
  }
}

/** The command when the server has decided it within a few seconds; those behind it are not held up for longer. */
async function decidedSoon(key: string): Promise<QueuedCommand | null> {
  const later = new Promise<null>((resolve) => setTimeout(() => resolve(null), decisionMilliseconds));
  return Promise.race([queue.settled(key), later]);
}
