import { decideHold } from './decide-hold.js';

describe('a hold', () => {
  it('is put on what is free and lifted from what is held', () => {
    expect(decideHold(null, 'hold').ok).toBe(true);
    expect(decideHold('crack suspected', 'lift').ok).toBe(true);
  });

  it('is not put on twice, and the refusal says why it is held', () => {
    const answer = decideHold('crack suspected', 'hold');
    expect(answer).toMatchObject({ ok: false, error: { code: 'held-already', status: 409 } });
    expect(answer.ok ? '' : answer.error.detail).toContain('crack suspected');
  });

  it('is not lifted where there is none', () => {
    expect(decideHold(null, 'lift')).toMatchObject({ ok: false, error: { code: 'not-held', status: 409 } });
  });
});
