import { oneOf } from '../../routes/search.js';

export const coresShown = ['all', 'due'] as const;
export const coreOrders = ['age', 'worth'] as const;

/** Which cores are shown, in which order, as the address keeps it. */
export interface CoresAsked {
  readonly show: (typeof coresShown)[number];
  readonly order: (typeof coreOrders)[number];
}

export const usualCores: CoresAsked = { show: 'all', order: 'age' };

export function readCoresAsked(search: Record<string, unknown>): Partial<CoresAsked> {
  return { ...oneOf(search, 'show', coresShown), ...oneOf(search, 'order', coreOrders) };
}
