import { hintOf } from './touched.js';

describe('what a commit bears on', () => {
  it('is the things of a scan, not the whole of its job', () => {
    expect(hintOf(['thing:t', 'stores', 'job:j', 'jobs', 'today'])).toEqual({
      everything: false,
      jobIds: [],
      thingIds: ['t'],
      partIds: [],
    });
  });
  it('is the job of an edit, and of what a strip-down found', () => {
    expect(hintOf(['job:j', 'jobs', 'today'])).toMatchObject({ everything: false, jobIds: ['j'] });
    expect(hintOf(['thing:u', 'strip-downs', 'stores', 'today', 'job:j'])).toMatchObject({ jobIds: ['j'], thingIds: ['u'] });
  });
  it('is the part of an order', () => {
    expect(hintOf(['receipts', 'today', 'part:p'])).toMatchObject({ everything: false, partIds: ['p'] });
  });
  it('is everything where nothing is named, after an import, and where rules changed', () => {
    for (const topics of [['stores'], ['imports', 'stores', 'thing:t'], ['settings', 'jobs', 'today']])
      expect(hintOf(topics)).toMatchObject({ everything: true });
    const many = Array.from({ length: 101 }, (_, index) => `thing:${index}`);
    expect(hintOf(many)).toMatchObject({ everything: true, thingIds: [] });
  });
  it('is nothing where a warning was settled, a session began, or an import goes on', () => {
    for (const topics of [['warnings', 'today', 'job:j'], ['sessions'], ['imports'], ['loads', 'load:l']])
      expect(hintOf(topics)).toBeNull();
  });
});
