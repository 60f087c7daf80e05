import type { ParsedCode } from '@corewright/codes/label-code';
import { type CommandCard, commandCards } from '@corewright/contracts/scanning';

/** What a scan does. The plate in large letters says which; a solid plate moves stock, an open one only looks. */
export type Mode = 'look' | 'pick' | 'fit' | 'put away' | 'count';

export type ModeRule = {
  readonly mode: Mode;
  /** works in every field too, since no field takes it for text */
  readonly key: 'F2' | 'F4' | 'F8' | 'F9' | 'F10';
  readonly moves: boolean;
  /** what a scan does now, for the line beside the field */
  readonly words: string;
};

export const modeRules: readonly ModeRule[] = [
  { mode: 'look', key: 'F2', moves: false, words: 'A scan here only looks.' },
  { mode: 'pick', key: 'F4', moves: true, words: 'Scan the job card once, then what goes into its tray.' },
  { mode: 'fit', key: 'F8', moves: true, words: 'Scan the job card once, then what goes into the unit.' },
  { mode: 'put away', key: 'F9', moves: true, words: 'Scan the place once, then what lies there.' },
  { mode: 'count', key: 'F10', moves: false, words: 'Scan the place once, then each thing and key how many.' },
];

/** After so long without a scan a mode that moves stock falls back to look, so that a curious scan moves nothing. */
export const idleMilliseconds = 3 * 60_000;

/** Something with a label that scans are made onto: a job, a place. */
export type Target = { readonly id: string; readonly code: string; readonly name: string; readonly detail: string };

export type ModeState = {
  readonly mode: Mode;
  /** when a person last scanned or chose a mode, Unix milliseconds */
  readonly touchedAt: number;
  /** the job of pick and fit; kept in look, so that the bench goes on showing it */
  readonly job: Target | null;
  readonly jobSince: number | null;
  /** the place of put away and of count */
  readonly place: Target | null;
  /** the count that was chosen on its screen; without one, that of the place */
  readonly countId?: string | undefined;
};

export const lookingOnly: ModeState = { mode: 'look', touchedAt: 0, job: null, jobSince: null, place: null };

export function ruleOf(mode: Mode): ModeRule {
  const rule = modeRules.find((each) => each.mode === mode);
  if (rule === undefined) throw new Error(`No rule for the mode ${mode}`);
  return rule;
}

/** What to scan next: the job or the place first, then what goes there. */
export function nextScanWords(state: ModeState): string {
  if (state.mode === 'pick' && state.job !== null) return 'Scan what goes into its tray.';
  if (state.mode === 'fit' && state.job !== null) return 'Scan what goes into the unit.';
  if (state.mode === 'put away' && state.place !== null) return 'Scan what lies there.';
  if (state.mode === 'count' && state.place !== null) return 'Scan a thing and key how many, or say that all is scanned.';
  return ruleOf(state.mode).words;
}

export function modeOfKey(key: string): Mode | null {
  return modeRules.find((rule) => rule.key === key)?.mode ?? null;
}

/** A newly chosen place is asked for each time: yesterday's shelf is not today's. The job stays until another card is scanned. */
export function chooseMode(state: ModeState, mode: Mode, now: number): ModeState {
  const staysThere = mode === state.mode && (mode === 'put away' || mode === 'count');
  const { countId, ...others } = state;
  return { ...others, mode, touchedAt: now, place: staysThere ? state.place : null, ...(staysThere ? { countId } : {}) };
}

export function touch(state: ModeState, now: number): ModeState {
  return { ...state, touchedAt: now };
}

export function chooseJob(state: ModeState, job: Target, now: number): ModeState {
  return { ...state, job, jobSince: state.job?.id === job.id ? state.jobSince : now, touchedAt: now };
}

export function choosePlace(state: ModeState, place: Target, now: number): ModeState {
  return { ...state, place, touchedAt: now };
}

/** Scans count in this count from now on: the place comes first. */
export function chooseCount(state: ModeState, countId: string, now: number): ModeState {
  return { ...state, mode: 'count', touchedAt: now, place: null, countId };
}

/** Everything at the place is scanned: the next place comes first. */
export function leavePlace(state: ModeState, now: number): ModeState {
  return { ...state, place: null, touchedAt: now };
}

/** The state as time leaves it: back in look when nobody has scanned for {@link idleMilliseconds}. */
export function afterIdling(state: ModeState, now: number): ModeState {
  if (state.mode === 'look' || now - state.touchedAt < idleMilliseconds) return state;
  return { ...state, mode: 'look', place: null, countId: undefined };
}

/** What a command card stands for; null for a card that this program does not know. */
export function commandOf(parsed: ParsedCode): CommandCard | null {
  return parsed.kind === 'K' ? (commandCards[parsed.serial - 1] ?? null) : null;
}

/** What a scan of this kind does in this mode, before any server is asked. */
export type Intent =
  | { readonly kind: 'command'; readonly command: CommandCard }
  | { readonly kind: 'look' }
  | { readonly kind: 'choose-job' }
  | { readonly kind: 'choose-place' }
  | { readonly kind: 'count-place' }
  | { readonly kind: 'act'; readonly act: 'pick' | 'fit' | 'put away' | 'count'; readonly onto: Target }
  | {
      readonly kind: 'cannot';
      readonly title: string;
      readonly detail: string;
      /** a thing is in the hand that has no place yet: where its like lie is worth saying */
      readonly seeksPlace?: boolean;
    };

export function intentOf(state: ModeState, parsed: ParsedCode): Intent {
  if (parsed.kind === 'K') {
    const command = commandOf(parsed);
    return command === null
      ? { kind: 'cannot', title: 'This command card is not known', detail: 'Print the cards anew from Settings.' }
      : { kind: 'command', command };
  }
  if (state.mode === 'look') return { kind: 'look' };
  if (state.mode === 'put away' || state.mode === 'count') return intentAtPlace(state, state.mode, parsed);
  return intentOnJob(state, state.mode, parsed);
}

/** A place is scanned once, then what lies there; another place moves on to it. */
function intentAtPlace(state: ModeState, act: 'put away' | 'count', parsed: ParsedCode): Intent {
  if (parsed.kind === 'P') return { kind: act === 'count' ? 'count-place' : 'choose-place' };
  if (!canBeMoved(parsed)) return cannotBeMoved(parsed, act);
  if (state.place === null)
    return {
      kind: 'cannot',
      title: `No place yet: nothing was ${act === 'count' ? 'counted' : 'moved'}`,
      detail: `Scan the label of the shelf or bin first, then this again.`,
      seeksPlace: act === 'put away',
    };
  return { kind: 'act', act, onto: state.place };
}

function intentOnJob(state: ModeState, act: 'pick' | 'fit', parsed: ParsedCode): Intent {
  if (parsed.kind === 'J') return { kind: 'choose-job' };
  if (!canBeMoved(parsed)) return cannotBeMoved(parsed, act);
  if (state.job === null)
    return { kind: 'cannot', title: 'No job yet: nothing was moved', detail: 'Scan the job card first, then this again.' };
  return { kind: 'act', act, onto: state.job };
}

const canBeMoved = (parsed: ParsedCode): boolean => ['U', 'L', 'C', 'X'].includes(parsed.kind);

const kindWords: Readonly<Record<string, string>> = { P: 'a place', J: 'a job card', T: 'a tool', B: 'a badge' };

function cannotBeMoved(parsed: ParsedCode, act: string): Intent {
  return {
    kind: 'cannot',
    title: `That is ${kindWords[parsed.kind] ?? 'no such thing'}: nothing was ${act === 'count' ? 'counted' : 'moved'}`,
    detail: `In the mode ${act} scan units, lots, components and boxes. F2 goes back to look.`,
  };
}
