import type { AsOfLine, AsOfPage, AsOfQuery, AsOfSum, AsOfTotals } from '@corewright/contracts/stock-as-of';
import { Injectable } from '@nestjs/common';
import { csvOf } from '../../platform/csv/write-csv.js';
import { Database } from '../../platform/database/database.js';
import { cursorOf, placeOf } from '../../platform/http/next-page.js';
import { badInput, notFound, RefusalError } from '../../platform/refusal.js';
import {
  type Direction,
  holdersInOrder,
  linesOfHolders,
  linesOfScope,
  placesThen,
  selectInside,
  selectStanding,
  totals,
} from './as-of.statements.js';

const linesAtATime = 200;
/** Places that are looked into at a time for a page, more each time that they turn out empty. */
const placesAtFirst = 32;
const placesAtMost = 2048;
/** Of so many places each is asked by itself; of more the ledger is read through. */
const fewPlaces = 500;
/** So much the sums of some hundred thousand things take, in each of the processes that read the ledger. */
const memoryOfMany = '64MB';

/** A question that can be answered: its place is there, its instant has passed. */
interface Asked {
  at: string;
  /** all that was recorded before it counts */
  before: string;
  place: { id: string; path: string; inside: readonly string[] } | null;
  isSettled: boolean;
  direction: Direction;
}

interface Holder extends Record<string, unknown> {
  id: string;
  name: string;
  isPlace: boolean;
}

type SumRow = AsOfSum & { places: number | null } & Record<string, unknown>;
type LineRow = Omit<AsOfLine, 'where' | 'owner'> & { holderId: string; ownerId: string | null; ownerName: string | null };

/** Where the list goes on: from this holder, and of it after this thing. */
interface From {
  isPlace: boolean;
  name: string;
  id: string;
  thing: { name: string; id: string } | null;
}

const fromTheFirst: From = { isPlace: true, name: '', id: '00000000-0000-0000-0000-000000000000', thing: null };

const columns = ['place', 'code', 'kind', 'name', 'number or type', 'marks', 'quantity', 'unit of measure', 'owner'];

/**
 * What the workshop had at an instant that has passed, by what is on record: all that was recorded until the end of that millisecond, whoever was still writing then
 * included once it is through. Quantities, places and owners are those of then; what things are called is what they are called today.
 */
@Injectable()
export class StockAsOf {
  /** Sums of many places one after another: each keeps all cores busy, and two connections of the pool. */
  private turn: Promise<unknown> = Promise.resolve();

  constructor(private readonly database: Database) {}

  async page(query: AsOfQuery, cursor?: string): Promise<AsOfPage> {
    const asked = await this.asked(query);
    const { lines, more } = await this.linesFrom(asked, fromOf(cursor));
    return { ...headOf(asked), lines, cursor: more };
  }

  async totals(query: AsOfQuery): Promise<AsOfTotals> {
    const asked = await this.asked(query);
    const { places, sums } = await this.sumsOf(asked);
    return { ...headOf(asked), places, sums: sums.map(({ places: _places, ...sum }) => sum) };
  }

  private async sumsOf(asked: Asked): Promise<{ places: number; sums: SumRow[] }> {
    const { place, before, direction } = asked;
    if (place === null || place.inside.length > fewPlaces) {
      const turn = this.turn.then(() => this.sumsOfMany(asked));
      this.turn = turn.catch(() => undefined);
      return turn;
    }
    const sums = await this.database.rows<SumRow>(totals.ofHolders(direction), [before, place.inside]);
    return { places: sums[0]?.places ?? 0, sums };
  }

  private async sumsOfMany({ place, before, direction }: Asked): Promise<{ places: number; sums: SumRow[] }> {
    const scope = place === null ? 'everywhere' : 'ofPlaces';
    const inside = place === null ? [] : await this.database.rows<{ id: string }>(selectInside, [place.id, null]);
    const values = place === null ? [before] : [before, inside.map(({ id }) => id)];
    const [sums, counted] = await this.database.bothWithMemory(
      memoryOfMany,
      (reader) => reader.rows<SumRow>(totals[scope](direction), values),
      (reader) => reader.row<{ places: number }>(placesThen[scope](direction), values),
    );
    return { places: counted?.places ?? 0, sums };
  }

  /** Every line, piece by piece as it is read. */
  async file(query: AsOfQuery): Promise<AsyncGenerator<string>> {
    const { before, place, direction } = await this.asked(query);
    return csvOf(this.database.pool, columns, linesOfScope(direction), [before, place?.id ?? null]);
  }

  /** @throws RefusalError for an instant that is still to come, or a place that is not there */
  private async asked({ at, placeId }: AsOfQuery): Promise<Asked> {
    const instant = new Date(at);
    const before = new Date(instant.getTime() + 1).toISOString();
    const standing = await this.database.row<{ isToCome: boolean; isSettled: boolean; isEarly: boolean }>(selectStanding, [
      before,
    ]);
    if (standing === null || standing.isToCome)
      throw new RefusalError(badInput('at', 'That is still to come. Choose a day and a time that have passed.'));
    return {
      at: instant.toISOString(),
      before,
      place: placeId === undefined ? null : await this.place(placeId),
      isSettled: standing.isSettled,
      direction: standing.isEarly ? 'from the beginning' : 'from now',
    };
  }

  private async place(placeId: string): Promise<Asked['place']> {
    const inside = await this.database.rows<{ id: string; path: string }>(selectInside, [placeId, fewPlaces + 1]);
    const [place] = inside;
    if (place === undefined) throw new RefusalError(notFound('That place'));
    return { ...place, inside: inside.map(({ id }) => id) };
  }

  /** Looks into place after place in the order of their names, until the page is full. */
  private async linesFrom(asked: Asked, start: From): Promise<{ lines: AsOfLine[]; more: string | null }> {
    const lines: AsOfLine[] = [];
    let from = start;
    for (let count = placesAtFirst; ; count = Math.min(count * 2, placesAtMost)) {
      const holders = await this.holdersFrom(asked, from, count + 1);
      const looked = holders.slice(0, count);
      const wanted = linesAtATime + 1 - lines.length;
      lines.push(...(await this.linesOf(asked, looked, from, wanted)));
      if (lines.length > linesAtATime) return { lines: lines.slice(0, linesAtATime), more: cursorAfter(lines[linesAtATime - 1]) };
      const next = holders[count];
      if (next === undefined) return { lines, more: null };
      from = { ...next, thing: null };
    }
  }

  private holdersFrom({ place }: Asked, from: From, count: number): Promise<Holder[]> {
    const values = [count, from.isPlace, from.name, from.id];
    return place === null
      ? this.database.rows<Holder>(holdersInOrder.everywhere, values)
      : this.database.rows<Holder>(holdersInOrder.inside, [...values, place.id]);
  }

  private async linesOf(
    { before, direction }: Asked,
    holders: readonly Holder[],
    from: From,
    count: number,
  ): Promise<AsOfLine[]> {
    const isGoingOn = from.thing !== null && holders[0]?.id === from.id;
    const rows = await this.database.rows<LineRow & Record<string, unknown>>(linesOfHolders(direction), [
      before,
      holders.map(({ id }) => id),
      isGoingOn ? from.thing?.name : null,
      isGoingOn ? from.thing?.id : null,
      count,
    ]);
    const holderOf = new Map(holders.map((holder) => [holder.id, holder]));
    return rows.map(({ holderId, ownerId, ownerName, ...line }) => ({
      ...line,
      where: { id: holderId, name: holderOf.get(holderId)?.name ?? '', isPlace: holderOf.get(holderId)?.isPlace ?? false },
      owner: ownerId === null ? null : { id: ownerId, name: ownerName ?? '' },
    }));
  }
}

function headOf({ at, place, isSettled }: Asked): Pick<AsOfPage, 'at' | 'place' | 'isSettled'> {
  return { at, place: place === null ? null : { id: place.id, name: place.path }, isSettled };
}

function cursorAfter(line: AsOfLine | undefined): string | null {
  if (line === undefined) return null;
  return cursorOf([line.where.isPlace ? 1 : 0, line.where.name, line.where.id, line.name, line.thingId]);
}

function fromOf(cursor: string | undefined): From {
  const place = placeOf(cursor, ['number', 'string', 'uuid', 'string', 'uuid']);
  if (place === null) return fromTheFirst;
  const [isPlace, name, id, thingName, thingId] = place as [number, string, string, string, string];
  return { isPlace: isPlace === 1, name, id, thing: { name: thingName, id: thingId } };
}
