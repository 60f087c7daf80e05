import { type Cause, type LiveWarning, reconcile } from './warning.js';

const cause = (since: Cause['since'], more: Partial<Cause> = {}): Cause => ({
  kind: 'cover lost',
  subjectKey: 'cover a',
  jobId: 'job',
  lineId: 'line',
  otherJobId: null,
  words: '1 lacking',
  why: 'L 1 was scrapped.',
  facts: {},
  since,
  ...more,
});
const warning = (isOpen: boolean): LiveWarning => ({ ...cause('known'), id: 'w', isOpen });
const judgement = (sees = true) => ({ sees: () => sees, gone: () => 'covered again' });

describe('each cause has one warning', () => {
  it('raised when it arises or stands, and not where it was so before anybody looked', () => {
    expect(reconcile([], [cause('arose')], judgement()).raise).toHaveLength(1);
    expect(reconcile([], [cause('stands')], judgement()).raise).toHaveLength(1);
    expect(reconcile([], [cause('known')], judgement()).raise).toEqual([]);
  });
  it('told once: the open one stays, in other words where they changed', () => {
    expect(reconcile([warning(true)], [cause('stands')], judgement())).toEqual({ raise: [], reword: [], end: [] });
    const { raise, reword } = reconcile([warning(true)], [cause('known', { words: '2 lacking', why: '' })], judgement());
    expect(raise).toEqual([]);
    expect(reword).toMatchObject([{ id: 'w', words: '2 lacking', why: 'L 1 was scrapped.' }]);
  });
  it('settled by somebody it stays away, until it arises anew', () => {
    for (const since of ['stands', 'known'] as const)
      expect(reconcile([warning(false)], [cause(since)], judgement())).toEqual({ raise: [], reword: [], end: [] });
    const anew = reconcile([warning(false)], [cause('arose')], judgement());
    expect([anew.end.length, anew.raise.length]).toEqual([1, 1]);
  });
  it('ends with its cause, if the look went so far as to tell', () => {
    expect(reconcile([warning(true)], [], judgement()).end).toMatchObject([{ words: 'covered again' }]);
    expect(reconcile([warning(true)], [], judgement(false)).end).toEqual([]);
  });
});
