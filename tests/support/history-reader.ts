import type { HistoryEntry, HistoryPage } from '../../libs/contracts/src/history.js';
import type { Visitor } from './bare-server.js';
import { accepted } from './write-making.js';

export type HistoryOf = 'things' | 'parts' | 'places';

/** Reads what is on record, as somebody sees it. */
export class HistoryReader {
  constructor(private readonly person: Visitor) {}

  page(of: HistoryOf, id: string, query = ''): Promise<HistoryPage> {
    return accepted(this.person.get<HistoryPage>(`/api/${of}/${id}/history${query}`));
  }

  /** All entries, page after page of so many. */
  async all(of: HistoryOf, id: string, limit = 500): Promise<HistoryEntry[]> {
    const entries: HistoryEntry[] = [];
    let cursor: string | null = '';
    while (cursor !== null) {
      const page: HistoryPage = await this.page(of, id, `?limit=${limit}&cursor=${cursor}`);
      if (page.entries.length > limit) throw new Error(`${page.entries.length} entries on a page of ${limit}`);
      entries.push(...page.entries);
      cursor = page.cursor;
    }
    return entries;
  }

  /** The titles of some kinds, the oldest first. */
  async told(of: HistoryOf, id: string, ...kinds: string[]): Promise<string[]> {
    return (await this.all(of, id))
      .filter(({ kind }) => kinds.includes(kind))
      .map(({ title }) => title)
      .reverse();
  }
}
