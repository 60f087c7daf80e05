import { notAccepted, tooOld } from '../bench/may-serve.js';
import type { LineFacts, StockFact } from './coverage-facts.js';

/** Why a lot of a part that would do may not serve the line; null when it may. */
export function whyLotMayNotServe(lot: StockFact, line: LineFacts, today: string): string | null {
  const unfit = whyUnfit(lot, today);
  if (unfit !== null) return unfit;
  const stop = notAccepted(lot, line);
  return stop === null ? null : withoutEnding(stop.detail);
}

/** By the lot: it is asked of each for many lines. */
const unfitOn = new WeakMap<StockFact, { today: string; why: string | null }>();

/** What keeps a lot from serving any line at all. */
function whyUnfit(lot: StockFact, today: string): string | null {
  const known = unfitOn.get(lot);
  if (known?.today === today) return known.why;
  const why = reckonUnfit(lot, today);
  unfitOn.set(lot, { today, why });
  return why;
}

function reckonUnfit(lot: StockFact, today: string): string | null {
  if (lot.condemned) return 'condemned';
  if (lot.heldBackReason !== null) return `held back: ${lot.heldBackReason}`;
  const aged = tooOld(lot, today);
  return aged === null ? null : withoutEnding(aged.detail);
}

function withoutEnding(detail: string): string {
  return detail.replace(/ Nothing was changed\.$/, '');
}
