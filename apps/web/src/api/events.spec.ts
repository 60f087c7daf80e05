import { keysTouchedBy } from './events.js';

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
