import { decideNicknames } from './decide-nicknames.js';

const call = (there: string, words: string) => decideNicknames(there, { words, forget: false });
const forget = (there: string, words: string) => decideNicknames(there, { words, forget: true });

describe('what the workshop calls something', () => {
  it('is added behind the names that it has', () => {
    expect(call('', 'the big seal')).toEqual({ ok: true, value: 'the big seal' });
    expect(call('the big seal', 'doughnut')).toEqual({ ok: true, value: 'the big seal; doughnut' });
  });

  it('stays as it is where it was called so before, in whichever letters', () => {
    expect(call('the big seal; doughnut', 'Doughnut')).toEqual({ ok: true, value: 'the big seal; doughnut' });
  });

  it('is forgotten, and forgetting it twice changes nothing', () => {
    expect(forget('the big seal; doughnut', 'THE BIG SEAL')).toEqual({ ok: true, value: 'doughnut' });
    expect(forget('doughnut', 'the big seal')).toEqual({ ok: true, value: 'doughnut' });
  });

  it('is refused where there is no room for one more', () => {
    const full = Array.from({ length: 4 }, (_, index) => `${'x'.repeat(46)}${index}`).join('; ');
    expect(call(full, 'one more')).toMatchObject({ ok: false, error: { code: 'names-enough' } });
  });
});
