import { oneText } from '../../../routes/search.js';

/** What is asked, as the address keeps it: the suppositions, and the job with which the person came. */
export interface WhatIfAsked {
  readonly suppose?: string;
  readonly job?: string;
}

export function readWhatIfAsked(search: Record<string, unknown>): WhatIfAsked {
  return { ...oneText(search, 'suppose'), ...oneText(search, 'job') };
}
