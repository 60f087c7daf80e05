import { oneText } from '../../../routes/search.js';

/** What is asked for, as it stands in the address; empty is not said. */
export type AsOfAsked = Record<'on' | 'time' | 'place', string>;

export const noAsOfAsked: AsOfAsked = { on: '', time: '', place: '' };

export function readAsOfAsked(search: Record<string, unknown>): Partial<AsOfAsked> {
  return { ...oneText(search, 'on'), ...oneText(search, 'time'), ...oneText(search, 'place') };
}

/**
 * The instant that is meant, by this device's clock: the end of the minute where a time is said, else of the day, and now where that has not come yet.
 * Null where no day is said, or none that there is.
 */
export function instantAsked({ on, time }: Pick<AsOfAsked, 'on' | 'time'>, now: Date): string | null {
  if (!/^\d{4}-\d\d-\d\d$/.test(on) || !/^(\d\d:\d\d(:\d\d)?)?$/.test(time)) return null;
  const end = new Date(`${on}T${time === '' ? '23:59' : time.slice(0, 5)}:59.999`);
  if (Number.isNaN(end.getTime())) return null;
  return (end > now ? now : end).toISOString();
}
