import type { ParsedCode } from '@corewright/codes/label-code';
import {
  gapMaxMs,
  readBurst,
  type WedgeKey,
  type WedgeScan,
  type WedgeState,
  wedgeIdle,
  wedgeNext,
} from '@corewright/codes/wedge';
import { type FieldBefore, putBack, remember, softlyInserted } from './field-before.js';
import { codePart, holdsLetter, joinRun, type SlowRun } from './slow-run.js';

export type WedgeListener = {
  /** a label was scanned, wherever the focus was */
  readonly onCode: (parsed: ParsedCode) => void;
  /** two labels are possible, or a scan came in pieces that do not fit: a person must scan again */
  readonly onUnclear: () => void;
  /** a single key struck outside every field, once it is sure that no scanner struck it */
  readonly onLoneKey: (key: string) => void;
  /** Enter outside every field; true when it was meant for the listener and must do nothing else */
  readonly onEnter: () => boolean;
};

const modifiers = new Set(['Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'NumLock']);

/** A burst shorter than this that just stops was a person's keys. */
const loneKeysMax = 3;

/**
 * Reads a scanner that types, wherever the focus is, and gives back to the field what the burst put into it.
 * @returns what stops it
 */
export function listenForWedge(listener: WedgeListener): () => void {
  const ear = new WedgeEar(listener);
  const options = { capture: true } as const;
  addEventListener('keydown', ear.keyDown, options);
  addEventListener('beforeinput', ear.beforeInput, options);
  addEventListener('input', ear.input, options);
  return () => {
    ear.stop();
    removeEventListener('keydown', ear.keyDown, options);
    removeEventListener('beforeinput', ear.beforeInput, options);
    removeEventListener('input', ear.input, options);
  };
}

class WedgeEar {
  private state: WedgeState = wedgeIdle;
  /** the field as it was before the burst's first character */
  private before: FieldBefore | null = null;
  private quiet: ReturnType<typeof setTimeout> | null = null;
  private soft: { at: number; before: FieldBefore } | null = null;
  private softAnnounced = false;
  private slow: SlowRun = [];

  constructor(private readonly listener: WedgeListener) {}

  readonly keyDown = (event: KeyboardEvent): void => {
    this.waitNoLonger();
    // a soft keyboard names no key: what it writes is heard in `input`
    if (event.keyCode === 229 || event.key === 'Unidentified' || event.isComposing) {
      this.softAnnounced = true;
      return;
    }
    const ends = event.key === 'Enter' || event.key === 'Tab';
    if (ends && this.endSoft(event)) return;
    this.softAnnounced = false;
    if (event.repeat) {
      this.state = wedgeIdle;
      this.slow = [];
      return;
    }
    if (!ends && event.key.length > 1 && !modifiers.has(event.key)) {
      this.otherKey(event.key);
      return;
    }
    const stroke: WedgeKey = { key: event.key, code: event.code, timeStamp: event.timeStamp };
    this.slow = isField(document.activeElement) ? [] : joinRun(this.slow, stroke);
    const { state, scan } = wedgeNext(this.state, stroke);
    const begins = state.keys.length === 1 && state.keys[0] === stroke;
    if (begins) this.before = remember(document.activeElement);
    // a separator that a scanner sends as Ctrl and a letter must not open the browser's own menus in mid-burst
    if (event.ctrlKey && state.keys.length > 1) event.preventDefault();
    const keys = this.state.keys;
    this.state = state;
    if (!ends) this.listenForQuiet();
    else if (scan === null || scan.kind === 'other') this.endTyping(keys, event);
    else this.end(scan, event);
  };

  /** Arrows, Escape and their like come from no scanner: they end whatever ran. */
  private otherKey(key: string): void {
    this.state = wedgeIdle;
    this.slow = [];
    if (!isField(document.activeElement)) this.listener.onLoneKey(key);
  }

  /** Enter after a person's own keys, after none, or after a scan that came in pieces. */
  private endTyping(keys: readonly WedgeKey[], event: KeyboardEvent): void {
    if (isField(document.activeElement)) return;
    const pieces = readBurst(codePart(this.slow));
    const broken = holdsLetter(this.slow) && this.slow.length > loneKeysMax;
    this.slow = [];
    if (pieces?.kind === 'code') this.end(pieces, event);
    else if (broken) this.listener.onUnclear();
    else this.endLoneKeys(keys, event);
  }

  private endLoneKeys(keys: readonly WedgeKey[], event: KeyboardEvent): void {
    const runs = keys.length > 0 && event.timeStamp - keys.at(-1)!.timeStamp < gapMaxMs;
    if (runs && keys.length <= loneKeysMax) for (const { key } of keys) this.listener.onLoneKey(key);
    if (event.key === 'Enter' && this.listener.onEnter()) {
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  }

  private end(scan: Exclude<WedgeScan, { kind: 'other' }>, event: Event): void {
    event.preventDefault();
    event.stopImmediatePropagation();
    if (this.before !== null) putBack(this.before);
    this.before = null;
    this.slow = [];
    this.state = wedgeIdle;
    if (scan.kind === 'code') this.listener.onCode(scan.parsed);
    else this.listener.onUnclear();
  }

  /** When no further key comes, a key or two outside a field were a person's. */
  private listenForQuiet(): void {
    const keys = this.state.keys;
    if (keys.length === 0 || keys.length > loneKeysMax || holdsLetter(this.slow) || isField(document.activeElement)) return;
    this.quiet = setTimeout(() => {
      for (const { key } of keys) this.listener.onLoneKey(key);
    }, gapMaxMs + 20);
  }

  private waitNoLonger(): void {
    if (this.quiet !== null) clearTimeout(this.quiet);
    this.quiet = null;
  }

  readonly beforeInput = (event: InputEvent): void => {
    if (!this.softAnnounced) return;
    if (event.inputType === 'insertLineBreak' && this.endSoft(event)) return;
    const running = this.soft !== null && event.timeStamp - this.soft.at < gapMaxMs;
    if (running) return;
    const before = remember(event.target instanceof Element ? event.target : null);
    this.soft = before === null ? null : { at: event.timeStamp, before };
  };

  readonly input = (event: Event): void => {
    if (this.soft !== null) this.soft = { ...this.soft, at: event.timeStamp };
  };

  private endSoft(event: Event): boolean {
    const soft = this.soft;
    this.soft = null;
    if (soft === null || event.timeStamp - soft.at >= gapMaxMs) return false;
    const text = softlyInserted(soft.before);
    const scan = readBurst([...text].map((key) => ({ key, code: '', timeStamp: 0 })));
    if (scan === null || scan.kind === 'other') return false;
    this.before = soft.before;
    this.end(scan, event);
    return true;
  }

  stop(): void {
    this.waitNoLonger();
  }
}

/** Whether letters typed now would go into something. */
export function isField(element: Element | null): boolean {
  if (element instanceof HTMLTextAreaElement || element instanceof HTMLSelectElement) return true;
  if (element instanceof HTMLInputElement) return !['checkbox', 'radio', 'button', 'submit', 'file'].includes(element.type);
  return element instanceof HTMLElement && element.isContentEditable;
}
