import { mayStandIn } from '@corewright/contracts/places';
import { PlaceKind } from '@corewright/contracts/stores';
import type { NewCommand } from '../api/outbound-queue.js';
import { carryCommand, moveContentsCommand } from './acts.js';
import type { Target } from './modes.js';

/** One thing that may have been meant by scanning a place where a thing was looked for. */
export type PlaceChoice = { readonly words: string; readonly command: NewCommand };

/** A place was scanned while another was chosen: it is the next place, unless a person says that it was meant as a thing. */
export type PlaceOffer = {
  readonly scanned: Target;
  /** the place that was chosen before */
  readonly onto: Target;
  /** what else may have been meant; 1 is the first */
  readonly choices: readonly PlaceChoice[];
  /** why all that lies in it cannot be moved at once; empty where it can */
  readonly barred: string;
};

/**
 * What may have been meant by a place that was scanned after another; null where nothing else can have been.
 * @param things how many things lie in it, in words, as the scan says it
 */
export function offerOf(scanned: Target, onto: Target | null, things: string): PlaceOffer | null {
  if (onto === null || onto.id === scanned.id) return null;
  const choices: PlaceChoice[] = [];
  const isTray = scanned.detail === 'tray';
  if (!isTray && things !== '0 things')
    choices.push({
      words: `Everything that lies in ${scanned.name} (${things}) goes to ${onto.name}`,
      command: moveContentsCommand(scanned, onto),
    });
  if (fits(scanned.detail, onto.detail))
    choices.push({ words: `${scanned.name} itself is carried to ${onto.name}`, command: carryCommand(scanned, onto) });
  if (choices.length === 0) return null;
  const barred = isTray ? 'It is a job’s tray: what lies in it is claimed by the job, and stays in it.' : '';
  return { scanned, onto, choices, barred };
}

function fits(kind: string, around: string): boolean {
  const [one, other] = [PlaceKind.safeParse(kind), PlaceKind.safeParse(around)];
  return one.success && other.success && one.data !== 'site' && mayStandIn(one.data, other.data);
}
