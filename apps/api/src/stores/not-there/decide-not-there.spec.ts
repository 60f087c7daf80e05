import type { Thing } from '@corewright/contracts/stores';
import { decideNotThere } from './decide-not-there.js';

const held = (holderKind: string, words: string): Thing['holdings'][number] => ({
  holderId: words,
  holderKind,
  words,
  code: null,
  quantity: '1',
});
const [bin, rack] = [held('place', 'Bin 4'), held('place', 'Rack 2')];
const tray = held('tray', 'Tray 7');

describe('what was looked for in vain', () => {
  it('is marked in the place that holds it, and in all of them where none is named', () => {
    expect(decideNotThere({ holdings: [bin], placeId: 'Bin 4', missing: null })).toEqual({ ok: true, value: [bin] });
    expect(decideNotThere({ holdings: [bin, rack], placeId: null, missing: null })).toEqual({ ok: true, value: [bin, rack] });
    expect(decideNotThere({ holdings: [bin, tray], placeId: 'Bin 4', missing: null })).toEqual({ ok: true, value: [bin] });
  });

  it.each([
    ['in a tray', [tray], null, /It was picked: it lies in Tray 7/],
    ['in the tray that was named', [bin, tray], 'Tray 7', /It was picked: it lies in Tray 7/],
    ['in a unit', [held('unit', 'U 000002 11')], null, /It is fitted: it is in U 000002 11/],
    ['with a firm', [held('outworker', 'Strake Grinding')], null, /it is with Strake Grinding/],
    ['nowhere', [], null, /Nothing of it is held/],
    ['in another place', [bin], 'Rack 2', /none of it lies there\. It lies in Bin 4/],
  ])('is refused in words where it is %s', (_, holdings, placeId, words) => {
    const answer = decideNotThere({ holdings, placeId, missing: null });
    expect(answer).toMatchObject({ ok: false, error: { status: 409, code: 'not-in-stores' } });
    expect(answer.ok ? '' : answer.error.detail).toMatch(words);
  });

  it('is looked for in its other places too before it is missing', () => {
    const answer = decideNotThere({ holdings: [bin, rack], placeId: 'Bin 4', missing: null });
    expect(answer).toMatchObject({ ok: false, error: { code: 'lies-elsewhere-too' } });
    expect(answer.ok ? '' : answer.error.detail).toContain('Bin 4 and Rack 2');
  });

  it('is not marked twice, and the refusal says who looked and where', () => {
    const missing = { since: '2026-01-05T09:00:00.000Z', by: 'Mary Fenwright', words: 'Looked for in Bin 4, and not there.' };
    const answer = decideNotThere({ holdings: [bin], placeId: null, missing });
    expect(answer).toMatchObject({ ok: false, error: { code: 'missing-already' } });
    expect(answer.ok ? '' : answer.error.detail).toContain('Mary Fenwright looked for it before. Looked for in Bin 4');
  });
});
