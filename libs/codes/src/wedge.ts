/**
 * Reading a scanner that types ("wedge"). A scan is a burst of keys less than {@link gapMaxMs} apart that ends with Enter or Tab.
 *
 * A scanner is set to one keyboard layout, the computer to another, so a digit may arrive as `&` and Z as Y. Each key event tells
 * both the character (`key`) and the place on the keyboard (`code`); readings are built from both, and the check digits choose.
 */
import { type LabelCode, type ParsedCode, parseCode } from './label-code.js';

/** The part of a browser's key event that is looked at. `timeStamp` in milliseconds, from any fixed moment. */
export interface WedgeKey {
  key: string;
  code: string;
  timeStamp: number;
}

export type WedgeScan =
  /** One label code, whatever the layouts. */
  | { kind: 'code'; parsed: ParsedCode }
  /** Two readings with good check digits: rare, and for a person to decide. */
  | { kind: 'ambiguous'; codes: LabelCode[] }
  /** Fast enough for a scanner but no label of ours: perhaps a maker's label. Readings, likeliest first. */
  | { kind: 'other'; candidates: string[] };

/** Keys further apart than this (milliseconds) do not belong to one burst. Typing at 90 ms gave no false read. */
export const gapMaxMs = 100;

/** Shorter bursts that are no code are somebody's typing and are left alone. */
export const otherLengthMin = 4;

/** No symbol that a shop's scanner types in one go is longer; a stuck key is not kept for ever. */
const burstLengthMax = 400;

/** Keys of the burst so far, oldest first. Begin with an empty one. */
export interface WedgeState {
  readonly keys: readonly WedgeKey[];
}

export const wedgeIdle: WedgeState = { keys: [] };

/**
 * Takes the next key-down event.
 * @returns the state to keep, and a scan when this key ended one. Modifier keys neither lengthen nor break a burst.
 */
export function wedgeNext(state: WedgeState, event: WedgeKey): { state: WedgeState; scan: WedgeScan | null } {
  const last = state.keys.at(-1);
  const runs = last !== undefined && event.timeStamp - last.timeStamp < gapMaxMs;
  const keys = runs ? state.keys : [];
  if (event.key === 'Enter' || event.key === 'Tab') return { state: wedgeIdle, scan: readBurst(keys) };
  if (modifiers.has(event.key)) return { state: { keys }, scan: null };
  return { state: { keys: [...keys, event].slice(-burstLengthMax) }, scan: null };
}

/** What a burst (without its end key) says; null when it can only be somebody's typing. */
export function readBurst(keys: readonly WedgeKey[]): WedgeScan | null {
  const candidates = wedgeCandidates(keys);
  const codes = new Map<LabelCode, ParsedCode>();
  for (const candidate of candidates) {
    const parsed = parseCode(candidate);
    if (parsed.ok) codes.set(parsed.value.code, parsed.value);
  }
  const found = [...codes.values()];
  if (found.length === 1) return { kind: 'code', parsed: found[0]! };
  if (found.length > 1) return { kind: 'ambiguous', codes: found.map(({ code }) => code) };
  return keys.length >= otherLengthMin && candidates.length > 0 ? { kind: 'other', candidates } : null;
}

/**
 * Every reading of a burst, without repeats: by the characters, by the places of the keys, and by a mixture of the two
 * (a layout that needs Shift for digits changes digits but leaves most letters alone).
 */
export function wedgeCandidates(keys: readonly WedgeKey[]): string[] {
  const byKey = keys.map(({ key }) => (key.length === 1 ? key : ''));
  const byPlace = keys.map(({ code }, index) => characterAt(code) ?? byKey[index]!);
  const digitsByPlace = keys.map(({ code }, index) => digitAt(code) ?? byKey[index]!);
  const lettersByPlace = keys.map(({ code }, index) => letterAt(code) ?? byKey[index]!);
  const readings = [byKey, digitsByPlace, byPlace, lettersByPlace].map((characters) => characters.join(''));
  return [...new Set(readings)].filter((reading) => reading !== '');
}

const modifiers = new Set(['Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'NumLock']);

/** Names of places on the keyboard are those of the W3C "UI Events KeyboardEvent code Values", which are US positions. */
function letterAt(code: string): string | undefined {
  return /^Key([A-Z])$/.exec(code)?.[1];
}

function digitAt(code: string): string | undefined {
  return /^(?:Digit|Numpad)(\d)$/.exec(code)?.[1];
}

function characterAt(code: string): string | undefined {
  return letterAt(code) ?? digitAt(code) ?? otherPlaces[code];
}

const otherPlaces: Record<string, string> = {
  Space: ' ',
  Minus: '-',
  NumpadSubtract: '-',
  Slash: '/',
  NumpadDivide: '/',
  Period: '.',
};
