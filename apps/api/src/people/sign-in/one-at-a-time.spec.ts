import { OneAtATime } from './one-at-a-time.js';

describe('one at a time', () => {
  it('runs work in the order of asking, never two at once', async () => {
    const queue = new OneAtATime(10);
    const seen: string[] = [];
    const work = (name: string) => async () => {
      seen.push(`${name} begins`);
      await new Promise((resolve) => setImmediate(resolve));
      seen.push(`${name} ends`);
    };
    await Promise.all([queue.run(work('first')), queue.run(work('second')), queue.run(work('third'))]);
    expect(seen).toEqual(['first begins', 'first ends', 'second begins', 'second ends', 'third begins', 'third ends']);
  });

  it('goes on after work that failed, and tells its own caller', async () => {
    const queue = new OneAtATime(10);
    const failing = queue.run(() => Promise.reject(new Error('no')));
    const next = queue.run(() => Promise.resolve('yes'));
    await expect(failing).rejects.toThrow('no');
    await expect(next).resolves.toBe('yes');
  });

  it('turns away what would wait too long, and takes more once there is room', async () => {
    const queue = new OneAtATime(2);
    const both = [queue.run(() => Promise.resolve(1)), queue.run(() => Promise.resolve(2))];
    expect(queue.run(() => Promise.resolve(3))).toBeNull();
    await Promise.all(both);
    await expect(queue.run(() => Promise.resolve(4))).resolves.toBe(4);
  });
});
