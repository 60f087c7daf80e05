const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
const DAY_SHORT = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' });
const DAY_LONG = new Intl.DateTimeFormat('en-GB', {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
});
const WEEKDAY = new Intl.DateTimeFormat('en-GB', {
  weekday: 'short',
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
});
const WEEKDAY_NAME = new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' });

const plain = (day: string): Date => new Date(`${day}T00:00:00Z`);

/** A plain date (`2026-12-02`) for people: "2 Dec 2026". */
export function sayDay(day: string): string {
  return DAY.format(plain(day)).replace('Sept', 'Sep');
}

/** A plain date without its year: "2 Dec". */
export function sayDayShort(day: string): string {
  return DAY_SHORT.format(plain(day)).replace('Sept', 'Sep');
}

/** A plain date with its weekday: "Wed, 2 Dec 2026". */
export function sayDayWithWeekday(day: string): string {
  return WEEKDAY.format(plain(day)).replace('Sept', 'Sep');
}

/** A plain date as it is read aloud: "Wednesday 2 December 2026". */
export function sayDayAloud(day: string): string {
  return DAY_LONG.format(plain(day)).replace(',', '');
}

/** The name of a plain date's weekday. */
export function sayWeekday(day: string): string {
  return WEEKDAY_NAME.format(plain(day));
}

/** The plain date on which an instant falls, on this device's clock. */
export function dayOf(instant: string | Date): string {
  const at = new Date(instant);
  const two = (part: number) => String(part).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** When something happened, as short as it can be said: "10.39" today, "14 Oct" this year, else with the year. */
export function sayInstant(instant: string, now: Date): string {
  const at = new Date(instant);
  const day = dayOf(at);
  if (day === dayOf(now)) return sayClock(at);
  return day.slice(0, 4) === dayOf(now).slice(0, 4) ? sayDayShort(day) : sayDay(day);
}

/** Day and time of day: "14 Oct 2026, 10.39". */
export function sayInstantFully(instant: string): string {
  const at = new Date(instant);
  return `${sayDay(dayOf(at))}, ${sayClock(at)}`;
}

/** Minutes as a workshop says them: "45 min", "6 h", "6½ h". */
export function sayMinutes(minutes: number): string {
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.round(minutes / 30) / 2;
  const whole = Math.floor(hours);
  return `${whole}${hours === whole ? '' : '½'} h`;
}

function sayClock(at: Date): string {
  return `${at.getHours()}.${String(at.getMinutes()).padStart(2, '0')}`;
}
