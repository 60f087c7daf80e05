import type { Visitor } from './bare-server.js';

export interface Heard {
  until(holds: (topics: string[]) => boolean): Promise<void>;
  stop(): void;
}

/** Listens to a server's stream of events as a screen does. */
export async function listenTo(url: string, visitor: Visitor): Promise<Heard> {
  const closing = new AbortController();
  const response = await fetch(`${url}/api/events`, { headers: { cookie: visitor.cookie ?? '' }, signal: closing.signal });
  expect(response.headers.get('content-type')).toMatch(/^text\/event-stream/);
  const topics: string[] = [];
  let told = (): void => undefined;
  const read = async (): Promise<void> => {
    let text = '';
    for await (const piece of response.body!.pipeThrough(new TextDecoderStream())) {
      text += piece;
      const lines = text.split('\n');
      text = lines.pop() ?? '';
      for (const line of lines)
        if (line.startsWith('data:')) topics.push(...(JSON.parse(line.slice(5)) as { topics: string[] }).topics);
      told();
    }
  };
  void read().catch(() => undefined);
  return {
    until: (holds) =>
      new Promise((settle, fail) => {
        const overdue = setTimeout(() => fail(new Error(`Not heard within 10 s; heard: ${topics.join(', ')}`)), 10_000);
        told = () => {
          if (!holds(topics)) return;
          clearTimeout(overdue);
          settle();
        };
        told();
      }),
    stop: () => closing.abort(),
  };
}
