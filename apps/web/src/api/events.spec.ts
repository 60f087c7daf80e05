import { QueryClient } from '@tanstack/react-query';
import { hear, keysTouchedBy } from './events.js';

describe('the news of a topic', () => {
  it('of the stores or a thing touches what is known of bearings, whose tables and stock they are', () => {
    for (const topic of ['stores', 'thing:0190c0de-0000-7000-8000-000000000001'])
      expect(keysTouchedBy(topic)).toContain('bearings');
  });
  it('of loads touches goods-in, whose rows say how long a part keeps', () => {
    expect(keysTouchedBy('loads')).toContain('goods-in');
  });
  it('of warnings touches the list of them, which stands on Today, on job cards and as a mark beside every screen', () => {
    expect(keysTouchedBy('warnings')).toEqual(['warnings']);
  });
  it('that nobody knows touches nothing', () => {
    expect(keysTouchedBy('moonshine')).toEqual([]);
  });
});

describe('a piece of news', () => {
  const staleAfter = (data: string): string[] => {
    const client = new QueryClient();
    for (const key of ['jobs', 'people', 'settings']) client.setQueryData([key], 'known');
    hear(client, data);
    const stale = client.getQueryCache().findAll({ stale: true });
    return stale.map(({ queryKey }) => String(queryKey[0])).toSorted();
  };
  it('makes what it touches stale, and nothing else', () => {
    expect(staleAfter('{"topics":["job:0190c0de-0000-7000-8000-000000000001"]}')).toEqual(['jobs']);
  });
  it('of everything, which comes when the server missed some, makes all stale', () => {
    expect(staleAfter('{"topics":["everything"]}')).toEqual(['jobs', 'people', 'settings']);
  });
  it('that cannot be read is passed over', () => {
    expect(staleAfter('{')).toEqual([]);
  });
});
