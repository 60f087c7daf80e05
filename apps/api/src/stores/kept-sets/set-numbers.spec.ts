import { decideNumbers } from './set-numbers.js';

const readings = (...stamped: string[]) => stamped.map((each, index) => ({ name: `part ${index + 1}`, stamped: each }));

describe('the numbers stamped on the parts of a set', () => {
  it.each([
    ['the same', ['1342', '1342']],
    ['the same but for spaces and capitals', ['set 13 42', 'SET1342']],
    ['one that was not read whole', ['1342', '13?2']],
    ['each not read where the other was', ['1?42', '134?']],
    ['one that was not read at all', ['1342', '']],
    ['none read', ['', '']],
    ['three of them', ['604', '60?', '604']],
  ])('%s: one set', (_, stamped) => {
    expect(decideNumbers(readings(...stamped), undefined)).toMatchObject({
      ok: true,
      value: { together: true, mismatchReason: '' },
    });
  });

  it.each([
    ['two figures swapped', ['1342', '1324']],
    ['one longer', ['1342', '13420']],
    ['one against two that agree', ['604', '604', '605']],
    ['a doubt that cannot bridge them', ['604', '6?5']],
  ])('%s: stops, with both readings and the choices', (_, stamped) => {
    const answer = decideNumbers(readings(...stamped), undefined);
    expect(answer).toMatchObject({ ok: false, error: { status: 409, code: 'set-numbers-differ' } });
    for (const each of stamped) expect(answer.ok ? '' : answer.error.detail).toContain(each);
  });

  it('that differ are of two sets, or belong together, when somebody says so', () => {
    const two = readings('1342', '1324');
    expect(decideNumbers(two, { say: 'they are of two sets' })).toMatchObject({ ok: true, value: { together: false } });
    const why = 'lapped together since';
    expect(decideNumbers(two, { say: 'they belong together', why })).toMatchObject({
      ok: true,
      value: { together: true, mismatchReason: why },
    });
  });

  it('the set goes by the reading with the fewest doubts', () => {
    expect(decideNumbers(readings('1??2', '13?2', '1342'), undefined)).toMatchObject({ value: { number: '1342' } });
    expect(decideNumbers(readings('', ''), undefined)).toMatchObject({ value: { number: '' } });
  });
});
