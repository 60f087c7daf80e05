import { newId } from '../../apps/api/src/platform/new-id.js';
import type {
  CountDifferences,
  CountDueList,
  CountEntered,
  CountLine,
  CountList,
  CountPage,
  PlaceClosed,
  PlaceTaken,
} from '../../libs/contracts/src/counting.js';
import type { Answer, SendOptions, Visitor } from './bare-server.js';
import type { Made } from './stock.js';

export type Refused = { code: string; title: string; detail: string; values?: Record<string, unknown> };
type Sent<Body> = Promise<Answer<Body & Refused>>;

/** What the tests of counting do, as whoever is named: scan a place, scan what lies there, say that all is scanned, decide. */
export class CountingDesk {
  constructor(readonly keeper: Visitor) {}

  begin(of: { placeId?: string; partId?: string }, by: Visitor = this.keeper): Sent<CountPage> {
    const { placeId = null, partId = null } = of;
    return by.post('/api/counts', { id: newId(), placeId, partId });
  }

  take(place: Made, more: object = {}, by: Visitor = this.keeper): Sent<PlaceTaken> {
    return by.post('/api/count-places', { code: place.code, ...more });
  }

  enter(
    place: Made,
    thing: Made,
    quantity?: string,
    more: object = {},
    by: Visitor = this.keeper,
    options: SendOptions = {},
  ): Sent<CountEntered> {
    const keyed = quantity === undefined ? {} : { quantity };
    return by.post('/api/count-entries', { placeId: place.id, code: thing.code, ...keyed, ...more }, options);
  }

  close(place: Made, more: object = {}, by: Visitor = this.keeper): Sent<PlaceClosed> {
    return by.post('/api/count-closings', { placeId: place.id, ...more });
  }

  async page(countId: string, by: Visitor = this.keeper): Promise<CountPage> {
    return (await by.get<CountPage>(`/api/counts/${countId}`)).body;
  }

  async list(): Promise<CountList> {
    return (await this.keeper.get<CountList>('/api/counts')).body;
  }

  async due(): Promise<CountDueList> {
    return (await this.keeper.get<CountDueList>('/api/counts-due')).body;
  }

  async differences(countId: string): Promise<CountDifferences> {
    return (await this.keeper.get<CountDifferences>(`/api/counts/${countId}/differences`)).body;
  }

  /** The line of a thing at a place; throws where it agrees and so is not shown. */
  async line(countId: string, thing: Made, place: Made): Promise<CountLine> {
    const { lines } = await this.differences(countId);
    const line = lines.find((each) => each.thing.id === thing.id && each.place.id === place.id);
    if (line === undefined) throw new Error(`There is no line of ${thing.code} in ${place.code}: ${JSON.stringify(lines)}`);
    return line;
  }

  /** Decides on a line as it is shown. */
  async decide(
    countId: string,
    line: CountLine,
    decision: string,
    more: object = {},
    options: SendOptions = {},
  ): Sent<CountDifferences> {
    return this.keeper.post(`/api/counts/${countId}/decisions`, { lines: [decisionOn(line, decision, more)] }, options);
  }

  takeBack(decisionId: string): Sent<CountDifferences> {
    return this.keeper.post(`/api/count-decisions/${decisionId}/take-back`, { why: 'another bag' });
  }

  end(countId: string, ending = 'posted', why = '', options: SendOptions = {}): Sent<CountPage> {
    return this.keeper.post(`/api/counts/${countId}/end`, { ending, why }, options);
  }

  /** Scans a place, counts what is named in it and says that all is scanned. @returns the count's id */
  async counted(place: Made, things: readonly (readonly [Made, string?])[], by: Visitor = this.keeper): Promise<string> {
    const taken = await this.take(place, {}, by);
    if (taken.status !== 200) throw new Error(`The place was not taken: ${JSON.stringify(taken.body)}`);
    for (const [thing, quantity] of things) {
      const entered = await this.enter(place, thing, quantity, {}, by);
      if (entered.status !== 200) throw new Error(`Not counted: ${JSON.stringify(entered.body)}`);
    }
    const closed = await this.close(place, {}, by);
    if (closed.status !== 200) throw new Error(`Not closed: ${JSON.stringify(closed.body)}`);
    return taken.body.count.id;
  }
}

/** What is sent for a line as it was shown. */
export function decisionOn(line: CountLine, decision: string, more: object = {}): object {
  const [first] = line.counts;
  const seen = first === undefined ? {} : { counted: first.quantity, books: first.books };
  return { placeId: line.place.id, thingId: line.thing.id, decision, ...seen, ...more };
}
