import { afterIdling, lookingOnly, type ModeState } from './modes.js';

const shelf = 'corewright.modes';

/** The mode, job and place as this tab left them, as time has since made them. */
export function recallModes(): ModeState {
  try {
    const kept = sessionStorage.getItem(shelf);
    return kept === null ? lookingOnly : afterIdling(JSON.parse(kept) as ModeState, Date.now());
  } catch {
    return lookingOnly;
  }
}

export function keepModes(modes: ModeState): void {
  try {
    sessionStorage.setItem(shelf, JSON.stringify(modes));
  } catch {
    // the mode then lasts as long as the page
  }
}
