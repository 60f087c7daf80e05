import { News } from '@corewright/contracts/events';
import type { QueryClient } from '@tanstack/react-query';

/** Which parts of the cache a topic's word touches. A hint too many costs one small request; one too few shows old news. */
const touched: Readonly<Record<string, readonly string[]>> = {
  today: ['today'],
  loads: ['goods-in', 'today'],
  load: ['goods-in', 'labels', 'today'],
  jobs: ['jobs', 'bench', 'today'],
  job: ['jobs', 'bench', 'today'],
  thing: ['stores', 'bearings', 'goods-in', 'jobs', 'labels', 'today'],
  part: ['stores'],
  stores: ['stores', 'bearings', 'jobs', 'today'],
  'strip-downs': ['bench', 'stores', 'settings'],
  imports: ['imports'],
  'blank-labels': ['blank-labels', 'labels'],
  receipts: ['receipts', 'jobs', 'today'],
  people: ['people'],
  warnings: ['warnings'],
  counts: ['counting'],
  sales: ['stores'],
  settings: ['settings', 'labels', 'workshop'],
};

/** The first words of the query keys that a topic (`job:ID`, `stores`) makes stale. */
export function keysTouchedBy(topic: string): readonly string[] {
  return touched[topic.split(':')[0] ?? ''] ?? [];
}

/**
 * Listens for the server's hints while the page can be seen, and fetches anew what is shown of their topics. After a
 * reconnect everything shown is fetched anew, since hints are not kept for those who were away.
 * @returns what stops it
 */
export function followNews(client: QueryClient): () => void {
  let source: EventSource | null = null;
  let wasAway = false;

  const open = () => {
    if (source !== null || document.hidden) return;
    source = new EventSource('/api/events');
    source.onopen = () => {
      if (wasAway) void client.invalidateQueries();
      wasAway = false;
    };
    source.onerror = () => {
      wasAway = true;
    };
    source.onmessage = (message: MessageEvent<string>) => hear(client, message.data);
  };
  const close = () => {
    source?.close();
    source = null;
    wasAway = true;
  };
  const seen = () => (document.hidden ? close() : open());

  document.addEventListener('visibilitychange', seen);
  open();
  return () => {
    document.removeEventListener('visibilitychange', seen);
    close();
  };
}

/** Takes one piece of news as it came. */
export function hear(client: QueryClient, data: string): void {
  let said: unknown;
  try {
    said = JSON.parse(data);
  } catch {
    return;
  }
  const news = News.safeParse(said);
  if (!news.success) return;
  // the server itself was away from the news for a while
  if (news.data.topics.includes('everything')) return void client.invalidateQueries();
  const areas = new Set(news.data.topics.flatMap(keysTouchedBy));
  for (const area of areas) void client.invalidateQueries({ queryKey: [area] });
}
