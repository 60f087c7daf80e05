import { type ParsedCode, parseCode } from '@corewright/codes/label-code';

/** A symbol in a frame: what it says and where its middle is, in dots from the upper left. */
export interface SymbolSeen {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly symbols: readonly SymbolSeen[];
}

/** What is remembered from frame to frame: the label that was scanned last, and when it was last aimed at, in milliseconds. */
export interface Aim {
  readonly code: string | null;
  readonly seenAt: number;
}

export const nothingAimedAt: Aim = { code: null, seenAt: 0 };

/** A label that was out of sight for so long is meant once more when it comes back, in milliseconds. */
export const awayMs = 1_500;

export interface Aimed {
  readonly aim: Aim;
  /** a label that is scanned now */
  readonly scanned: ParsedCode | null;
  /** what the symbol in the middle says, where it is no label of the workshop's */
  readonly foreign: string | null;
}

/**
 * Of all labels in the frame the one nearest to its middle is meant. It is scanned once for as long as it stays there: a hand is never so still that it would
 * not be read some dozen times. A symbol whose check digits do not hold is no label, for a damaged one can read as another.
 */
export function aimAt(before: Aim, frame: Frame, now: number): Aimed {
  const nearest = [...frame.symbols].sort((one, other) => fromMiddle(one, frame) - fromMiddle(other, frame));
  const labels = nearest.flatMap(({ text }) => {
    const parsed = parseCode(text);
    return parsed.ok ? [parsed.value] : [];
  });
  const [label] = labels;
  if (label === undefined) return { aim: before, scanned: null, foreign: nearest[0]?.text ?? null };
  const isNew = label.code !== before.code || now - before.seenAt >= awayMs;
  return { aim: { code: label.code, seenAt: now }, scanned: isNew ? label : null, foreign: null };
}

function fromMiddle({ x, y }: SymbolSeen, { width, height }: Frame): number {
  return Math.hypot(x - width / 2, y - height / 2);
}
