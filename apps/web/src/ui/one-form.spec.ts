import { closed, noForm, type OneForm, opened } from './one-form.js';

type Which = 'inspect' | 'split';
const none: OneForm<Which> = noForm;

describe('one of several forms', () => {
  it('stands open in place of the one before', () => {
    expect(opened(opened(none, 'inspect'), 'split').which).toBe('split');
  });

  it('is closed by its own answer', () => {
    const now = opened(none, 'inspect');
    expect(closed(now, now.turn).which).toBeNull();
  });

  it('stays when the answer of another comes late', () => {
    const sent = opened(none, 'inspect');
    const now = opened(sent, 'split');
    expect(closed(now, sent.turn)).toBe(now);
  });

  it('stays when it was left, opened anew, and its first answer comes late', () => {
    const sent = opened(none, 'inspect');
    const now = opened(closed(sent, sent.turn), 'inspect');
    expect(closed(now, sent.turn)).toBe(now);
    expect(closed(now, now.turn).which).toBeNull();
  });

  it('is the same opening where it is asked for while it stands', () => {
    const now = opened(none, 'inspect');
    expect(opened(now, 'inspect')).toBe(now);
  });

  it('that is closed already is closed by nothing again', () => {
    const now = opened(none, 'inspect');
    const left = closed(now, now.turn);
    expect(closed(left, now.turn).which).toBeNull();
    expect(opened(left, 'split').turn).not.toBe(now.turn);
  });
});
