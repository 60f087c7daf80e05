import { decideIdentification } from './decide-identification.js';

const wd7 = { id: '1', name: 'Brantock WD7' };
const wd5 = { id: '2', name: 'Brantock WD5' };
const facts = { before: null, now: wd7, contradictions: [], why: '' };

describe('what a unit is said to be', () => {
  it('needs no reason where nobody had said it and nothing contradicts it, or where it is said again', () => {
    expect(decideIdentification(facts).ok).toBe(true);
    expect(decideIdentification({ ...facts, before: wd7 }).ok).toBe(true);
  });

  it.each([
    ['contradicted', { contradictions: ['Serial WD7 9000 cannot be one of WD7 1 to 6990.'] }],
    ['needs-reason', { before: wd5 }],
    ['needs-reason', { before: wd7, now: null }],
  ])('is refused without a reason (%s), and taken with one', (code, more) => {
    expect(decideIdentification({ ...facts, ...more })).toMatchObject({ ok: false, error: { code, status: 409 } });
    expect(decideIdentification({ ...facts, ...more, why: 'the plate was changed' }).ok).toBe(true);
  });

  it('cannot be taken back where nobody had said it, whatever the reason', () => {
    expect(decideIdentification({ ...facts, now: null, why: 'a slip' })).toMatchObject({ error: { code: 'not-identified' } });
  });
});
