import type { Refusal } from '../../platform/refusal.js';

export interface BeforePosting {
  lines: number;
  /** of which nobody has decided yet */
  open: number;
  /** places of which nobody has said that everything is scanned */
  notClosed: readonly string[];
  /** things without a label, and figures in doubt, of which nobody has decided yet */
  findings: number;
}

const named = 3;

/** Why a count cannot be closed as posted; null where it can. */
export function whyNotPosted({ lines, open, notClosed, findings }: BeforePosting): Refusal | null {
  if (notClosed.length > 0) {
    const rest = notClosed.length - named;
    const places = `${notClosed.slice(0, named).join('; ')}${rest > 0 ? `; and ${rest} more` : ''}`;
    return stopped(
      'places-open',
      'Not all is scanned',
      `Nobody has said that everything is scanned in ${places}. Say so there, then close the count.`,
    );
  }
  if (open > 0)
    return stopped(
      'differences-open',
      'Differences are open',
      `${open === 1 ? '1 difference is' : `${open} differences are`} still to be decided: post, move, have it counted again, or leave it with a reason.`,
    );
  if (findings > 0)
    return stopped(
      'findings-open',
      'Something that was written down waits',
      `${findings === 1 ? '1 thing without a label, or in doubt, was' : `${findings} things without a label, or in doubt, were`} written down. Say what becomes of each.`,
    );
  if (lines === 0)
    return stopped(
      'nothing-counted',
      'Nothing was counted',
      'Nothing was scanned in it, and the books have nothing there. Give it up instead, and say why.',
    );
  return null;
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
