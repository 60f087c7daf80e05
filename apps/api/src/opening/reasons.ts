/**
 * Why opening stock moves. It comes in through the count, as whatever is found does: what a lot cost is then divided over what there is of it, and
 * nothing else needs to know a further boundary. Each reason begins alike, by which `stores/verify` adds up what a row brought in.
 */
export const reasons = {
  found: 'opening stock',
  corrected: 'opening stock, count corrected',
  onJob: 'opening stock, found in hand and taken onto a job',
  split: 'opening stock, split off',
  struckOut: (why: string) => `opening stock, struck out: ${why}`,
} as const;

/** Scrapping is no part of what was found. */
export const scrapped = (why: string): string => `scrapped: ${why}`;
export const broughtBack = 'brought back from scrap';
