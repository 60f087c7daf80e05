import type { Advice } from '@corewright/contracts/coverage';
import type { Today, TodayItem } from '@corewright/contracts/today';
import { addDays, dayOfWeek, formatPlainDate } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import { WhatToBuy } from '../consumables/minimums/to-buy.js';
import { CoreAgeing } from '../cores/ageing/core-ages.js';
import { isDue } from '../cores/ageing/core-standing.js';
import { CountsForToday } from '../counting/schedule/counts-for-today.js';
import { WorkshopCover } from '../coverage/workshop-cover.js';
import { WorkshopClock } from '../people/workshop.js';
import { adviceOn, type DateFacts, readDateFacts } from '../planning/date-facts.js';
import { Database } from '../platform/database/database.js';
import { holdsDue } from '../stores/goods-apart/holds.queries.js';
import { keptDue } from '../stores/kept-for-owners/kept.queries.js';
import { ShelfLives } from '../stores/shelf-life/shelf-life.js';
import { consumableItems } from './consumable-items.js';
import { comingDays, lateReceipts, type OpenJob, openFlags, openJobs, unlabelledLoads } from './today.queries.js';

const daysShown = 17;
const agedNamedMax = 3;
/** What a flag asks of whoever has stores in hand. */
const askedOf = {
  'found in hand': 'Count the bin and look where it came from.',
  'another label': 'Find what belongs to the label, and print one for the other.',
  'not there': 'Look for it. Whoever has it scans it, or says on its page where it is.',
};

/** What needs a person now, gathered from every area. */
@Injectable()
export class TodayService {
  constructor(
    private readonly database: Database,
    private readonly cover: WorkshopCover,
    private readonly clock: WorkshopClock,
    private readonly shelfLives: ShelfLives,
    private readonly ageing: CoreAgeing,
    private readonly counts: CountsForToday,
    private readonly toBuy: WhatToBuy,
  ) {}

  async today(): Promise<Today> {
    const day = await this.clock.today();
    const jobs = await openJobs(this.database);
    const items: TodayItem[] = [];
    const { lines } = await this.cover.ofAll(this.database);
    const dates = await readDateFacts(
      this.database,
      await this.clock.moment(this.database),
      jobs.map(({ id }) => id),
    );
    for (const job of jobs) items.push(...jobItems(job, adviceOn(job, lines.get(job.id) ?? [], dates)));
    items.push(...(await this.late(day)), ...(await this.stores()), ...(await this.apart(day)));
    const order = ['dates in danger', 'critical and lacking', 'coming late', 'stores'];
    items.sort((a, b) => order.indexOf(a.section) - order.indexOf(b.section));
    const last = addDays(day, daysShown - 1);
    const promised = jobs
      .filter((job) => job.dateGiven !== null && job.dateGiven >= day && job.dateGiven <= last)
      .map((job) => ({
        day: job.dateGiven!,
        kind: 'promised' as const,
        words: `${job.title}${job.customer ? `, for ${job.customer}` : ''}`,
        path: `/jobs/${job.id}`,
        certain: true,
      }));
    return { day, items, ruler: [...promised, ...(await comingDays(this.database, day, last))], days: this.days(day, dates) };
  }

  private async late(day: string): Promise<TodayItem[]> {
    return (await lateReceipts(this.database, day)).map((receipt) => ({
      id: `receipt:${receipt.id}`,
      section: 'coming late',
      tag: null,
      title: `Order ${receipt.orderReference} has not come: ${receipt.outstanding} of ${receipt.part}`,
      reason: `${receipt.supplier} was to deliver on ${formatPlainDate(receipt.dueOn)}. Ask, and write down what they say.`,
      action: { words: 'Look at the part', path: `/stores?q=${encodeURIComponent(receipt.part)}` },
    }));
  }

  private async stores(): Promise<TodayItem[]> {
    const flags = (await openFlags(this.database)).map(
      (flag): TodayItem => ({
        id: `flag:${flag.id}`,
        section: 'stores',
        tag: { id: flag.thingId, code: flag.code, name: flag.name },
        title: `${flag.name}: ${flag.words}`,
        reason: `${flag.by} said so. ${askedOf[flag.kind]}`,
        action: { words: 'Look at it', path: `/stores/things/${flag.thingId}` },
      }),
    );
    const loads = (await unlabelledLoads(this.database)).map(
      (load): TodayItem => ({
        id: `load:${load.id}`,
        section: 'stores',
        tag: null,
        title: `${load.unlabelled} ${load.unlabelled === 1 ? 'thing' : 'things'} of load ${load.number} without a label`,
        reason: load.words,
        action: { words: 'To the label run', path: `/goods-in/${load.id}` },
      }),
    );
    return [
      ...flags,
      ...loads,
      ...(await this.agedItems()),
      ...(await this.oldCores()),
      ...(await this.counts.items()),
      ...consumableItems(await this.toBuy.list()),
    ];
  }

  /** What is kept for its owner and somebody is to look at again, the most overdue first; and one row for all holds that are due. */
  private async apart(day: string): Promise<TodayItem[]> {
    const kept = (await keptDue(this.database, day)).map(
      (each): TodayItem => ({
        id: `kept:${each.id}`,
        section: 'stores',
        tag: each.thing,
        title: `${each.thing.name}: ${each.kind}, ${each.standing === 'overdue' ? `was to be looked at again on ${formatPlainDate(each.lookAgainOn)}` : 'to be looked at again today'}`,
        reason: `${each.owner === null ? 'Nobody knows whose it is' : `It is ${each.owner.name}’s`}; here since ${formatPlainDate(each.since)}.${each.askWhom === '' ? '' : ` Ask ${each.askWhom}.`} Write down what was said, and when to look again.`,
        action: { words: 'Look at it', path: '/stores/kept-for-owners' },
      }),
    );
    const { count, name } = await holdsDue(this.database, day);
    if (count === 0) return kept;
    return [
      ...kept,
      {
        id: 'holds-due',
        section: 'stores',
        tag: null,
        title: `${count} held back ${count === 1 ? 'is' : 'are'} to be looked at again`,
        reason: `${name}${count === 1 ? '' : ' and others'}: lift the hold, keep it on until another day, or condemn it.`,
        action: { words: 'Go through them', path: '/stores/held-back' },
      },
    ];
  }

  /** One row for all that has come to its end: the list has each. What is held back waits for somebody already. */
  private async agedItems(): Promise<TodayItem[]> {
    const { places } = await this.shelfLives.on();
    const stopped = places.flatMap(({ lots }) => lots).filter((lot) => lot.storageLife.stops && lot.heldBack === null);
    if (stopped.length === 0) return [];
    const named = stopped.slice(0, agedNamedMax).map(({ name, number }) => (number === '' ? name : `${name} ${number}`));
    const rest = stopped.length - named.length;
    return [
      {
        id: 'aged',
        section: 'stores',
        tag: null,
        title: `${stopped.length} ${stopped.length === 1 ? 'lot has' : 'lots have'} come to the end of ${stopped.length === 1 ? 'its' : 'their'} storage life`,
        reason: `${named.join('; ')}${rest === 0 ? '' : `; and ${rest} more`}. A scan of any is stopped until it is inspected, or somebody puts a name to it.`,
        action: { words: 'Go through them', path: '/stores/shelf-life' },
      },
    ];
  }

  /** One row for all cores past their marks; which of them, the list has. */
  private async oldCores(): Promise<TodayItem[]> {
    const { cores, due } = await this.ageing.ages();
    const waiting = cores.filter(({ standing }) => isDue(standing));
    const [oldest] = waiting;
    if (oldest === undefined) return [];
    const months = oldest.months === 1 ? '1 month' : `${oldest.months} months`;
    return [
      {
        id: 'old-cores',
        section: 'stores',
        tag: null,
        title: `${due} ${due === 1 ? 'core is' : 'cores are'} to be looked through again`,
        reason: `The oldest, ${oldest.name}, has lain here for ${months}. Keep it, rebuild it, break it for spares or sell it: say which, and when to look again.`,
        action: { words: 'Look the cores through', path: '/stores/cores-by-age?show=due' },
      },
    ];
  }

  private days(from: string, { calendar }: Pick<DateFacts, 'calendar'>): Today['days'] {
    const closed = new Set(calendar.closedDays.map(({ day }) => day));
    return Array.from({ length: daysShown }, (_, offset) => {
      const day = addDays(from, offset);
      return { day, working: !closed.has(day) && (calendar.weekMinutes[dayOfWeek(day) - 1] ?? 0) > 0 };
    });
  }
}

/** A job needs a person when its date cannot be held, or when something critical is lacking. */
function jobItems(job: OpenJob, advice: Advice): TodayItem[] {
  const tag = { id: job.id, code: job.code, name: job.title };
  const action = { words: 'Look at the job', path: `/jobs/${job.id}` };
  const items: TodayItem[] = [];
  const given = job.dateGiven;
  if (given !== null) {
    const day = formatPlainDate(given);
    const told = `Told to ${job.customer ?? 'the shop'}${job.givenAgainst ? ` against advice: ${job.givenAgainst}` : ''}.`;
    if (advice.kind === 'none')
      items.push({
        id: `date:${job.id}`,
        section: 'dates in danger',
        tag,
        title: `${day} cannot be held`,
        reason: `${told} ${advice.sentence}`,
        action,
      });
    else if (advice.date !== null && advice.date > given)
      items.push({
        id: `date:${job.id}`,
        section: 'dates in danger',
        tag,
        title: `${day} cannot be held: ${formatPlainDate(advice.date)} at the earliest${advice.kind === 'if' ? ', and that is an “if”' : ''}`,
        reason: `${told} ${advice.sentence}`,
        action,
      });
  }
  for (const part of advice.toFind)
    items.push({
      id: `lacking:${job.id}:${part.lineId}`,
      section: 'critical and lacking',
      tag,
      title: `${part.name}${part.number ? `, ${part.number}` : ''}: ${part.quantity} lacking`,
      reason: `Line ${part.lineNo} of ${job.title}. Nothing free in stores and nothing on order.`,
      action,
    });
  return items;
}
