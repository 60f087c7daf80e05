import { type ParsedCode, parseCode } from '@corewright/codes/label-code';
import { AlikeLie } from '@corewright/contracts/places';
import type { CommandCard } from '@corewright/contracts/scanning';
import { api } from '../api/client.js';
import type { NewCommand } from '../api/outbound-queue.js';
import { asProblem } from '../api/problem.js';
import { queue } from '../api/queue.js';
import type { QueuedCommand } from '../api/queue-machine.js';
import { codeOf, outcomeOf, sayCode, scanCommand } from './acts.js';
import {
  type Answer,
  backToLook,
  blankPath,
  faultAnswer,
  keptHere,
  lookAnswer,
  noChoice,
  type Said,
  unclearScan,
} from './answers.js';
import { CountingHand } from './counting-hand.js';
import { LastAct } from './last-act.js';
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

/** The one scanning service of a tab: every scan of every screen comes through `scan`. */
export class ScanDesk {
  private state: DeskState = { modes: recallModes(), answer: null, keyedQuantity: '', offer: null };
  private readonly listeners = new Set<() => void>();
  private readonly takers: ScanTaker[] = [];
  private readonly choosers: ChoiceTaker[] = [];
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
  private readonly last = new LastAct({
    keyed: () => this.state.keyedQuantity,
    setKeyed: (keyedQuantity) => this.set({ keyedQuantity }),
    isRefused: () => this.state.answer?.tone === 'refused',
    say: (said) => this.say(said),
    settled: (command) => this.settled(command),
    inLine: (code, work) => this.inLine(code, work),
  });
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
      this.last.takeQuantity();
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
    this.last.takeQuantity();
    const now = Date.now();
    this.set({ modes: touch(afterIdling(this.state.modes, now), now) });
    const taker = parsed.kind === 'K' ? undefined : this.takers.at(-1);
    if (taker?.(parsed) === true) return;
    const intent = intentOf(this.state.modes, parsed);
    // what a scan means is settled by the mode at the moment of the scan, whatever is chosen while others wait
    this.inLine(parsed.code, () => this.follow(intent, parsed));
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
        return this.last.act(
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
      void this.last.takeBackLast();
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
    this.inLine(offer.scanned.code, () => this.last.act(chosen.command, offer.scanned.code));
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
    this.last.takeQuantity();
    await this.counting.allScanned();
  };

  private async keep(command: NewCommand, code: string): Promise<void> {
    this.last.forget();
    const kept = await queue.add(command);
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
        canBeTakenBack: this.last.isOf(command.key) && (outcome.actId !== null || outcome.undo !== undefined),
      },
    });
  };

  /** A lone key outside every field: a digit corrects the last quantity, or chooses where something waits for a choice. */
  readonly loneKey = (key: string): void => {
    if (/^[1-9]$/.test(key) && this.state.keyedQuantity === '') {
      if (this.meant(Number(key))) return;
      if ([...this.choosers].reverse().some((chooser) => chooser(Number(key)))) return;
    }
    this.last.loneKey(key);
  };

  readonly enter = (): boolean => {
    if (this.state.keyedQuantity === '') return false;
    this.last.takeQuantity();
    return true;
  };

  readonly takeBackLast = (): Promise<void> => this.last.takeBackLast();

  readonly takeBack = (actId: string, code: string, title: string): Promise<void> => this.last.takeBack(actId, code, title);

  /** A decision about a refused scan goes out as a scan of its own, and speaks in the strip like one. */
  readonly decide = async (refused: QueuedCommand, decided: NewCommand): Promise<void> => {
    await this.last.act(decided, codeOf(refused) ?? '');
    await queue.dismiss(refused.key);
  };

  private inLine(code: string, work: () => Promise<void>): void {
    this.line = this.line.then(work).catch((thrown: unknown) => this.say(faultAnswer(code, thrown)));
  }
}
