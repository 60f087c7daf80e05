import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import { done, type Refusal, type Result, refused } from '../../platform/refusal.js';

/** A box as the books have it now, under its lock. */
export interface BoxState {
  code: string;
  /** it is with us, in a place or a tray */
  isHere: boolean;
  heldBackReason: string | null;
  saidEmpty: boolean;
  /** null where nobody counted */
  pieceCount: number | null;
  /** of them nobody has named yet; null where nobody counted */
  piecesLeft: number | null;
  /** how many things were taken out of it and stand */
  taken: number;
}

/** Why so many pieces cannot be named of a box; null where they can. Pure. */
export function whyNotNamed(box: BoxState, pieces: number): Refusal | null {
  const closed = whyClosed(box);
  if (closed !== null) return closed;
  if (box.piecesLeft === null || pieces <= box.piecesLeft) return null;
  return refusal(
    'more-than-in-box',
    'More than there are',
    `${called(box)} was counted at ${box.pieceCount}, ${leftWords(box.piecesLeft)}, and ${pieces} were keyed. Count again; where the box was miscounted, put its count right in the row of its load.`,
  );
}

function whyClosed(box: BoxState): Refusal | null {
  if (box.saidEmpty)
    return refusal(
      'box-empty',
      'It was said to be empty',
      `Somebody said that ${called(box)} is empty. Where it is not, undo that on its page first.`,
    );
  if (!box.isHere)
    return refusal('box-not-here', 'It is not here', `By the books ${called(box)} is not with us. Put it away first.`);
  if (box.heldBackReason !== null)
    return refusal(
      'held',
      'It is held back',
      `${called(box)} is held back: ${box.heldBackReason}. Lift the hold on its page first.`,
    );
  return null;
}

/** Where an emptied box goes in the ledger: to what came out of it, or to the count difference because some of it was not found. */
export interface Emptying {
  notFound: number;
  isLoss: boolean;
}

/** Whether a box may be said to be empty. What is unaccounted for is a loss, and needs a reason. Pure. */
export function decideEmptying(box: BoxState, why: string): Result<Emptying> {
  const closed = whyClosed(box);
  if (closed !== null) return refused(closed);
  const notFound = box.piecesLeft ?? 0;
  const isLoss = notFound > 0 || box.taken === 0;
  if (!isLoss || why !== '') return done({ notFound, isLoss });
  const what =
    box.piecesLeft === null || box.taken === 0
      ? `Nothing was named out of ${called(box)}.`
      : `${called(box)} was counted at ${box.pieceCount}, and ${leftWords(notFound)}.`;
  return refused(
    refusal(
      'needs-reason',
      'Say what became of the rest',
      `${what} Say what became of it: it is booked as a loss, with your name.`,
    ),
  );
}

function leftWords(left: number): string {
  return left === 0 ? 'all of them are named' : `${left} of them ${left === 1 ? 'is' : 'are'} not named yet`;
}

function called({ code }: BoxState): string {
  return formatCode(code as LabelCode);
}

function refusal(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.` };
}
