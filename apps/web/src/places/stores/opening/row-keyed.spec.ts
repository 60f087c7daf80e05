import { makeCode } from '@corewright/codes/label-code';
import { KeepOpeningRow } from '@corewright/contracts/opening-stock';
import { bodyOf, isManyFor, newRow, sayRow, whatIsWrong } from './row-keyed.js';

const place = '01931f5e-7a00-7000-8000-000000000001';
const part = '01931f5e-7a00-7000-8000-000000000002';
const row = { ...newRow('01931f5e-7a00-7000-8000-000000000003'), text: 'cover plates', count: '12' };

it('needs a photograph or a word, and no more', () => {
  expect(whatIsWrong(newRow('x'))?.field).toBe('text');
  expect(whatIsWrong({ ...newRow('x'), photographed: true })).toBeNull();
  expect(whatIsWrong({ ...newRow('x'), text: 'a ring' })).toBeNull();
});

it.each([makeCode('L', 412), '0', 'a few', '5012345678900'])('takes no count of %s', (count) => {
  expect(whatIsWrong({ ...row, count })?.field).toBe('count');
});

it('asks of a thousand, but not of a unit', () => {
  expect([isManyFor({ kind: 'lot', count: '1000' }), isManyFor({ kind: 'lot', count: '999' })]).toEqual([true, false]);
  expect(isManyFor({ kind: 'unit', count: '1000' })).toBe(false);
});

it('sends words as they were keyed, and of a chosen part its name', () => {
  expect(bodyOf(row, place, null, false)).toMatchObject({ words: 'cover plates', partId: null, count: '12', code: null });
  const chosen = { ...row, text: '48-2217', referenceId: part, referenceName: 'Cover plate' };
  expect(bodyOf(chosen, place, null, false)).toMatchObject({ words: 'Cover plate', partId: part });
  expect(KeepOpeningRow.safeParse(bodyOf(chosen, place, null, false)).success).toBe(true);
});

it('says what a row is', () => {
  expect(sayRow(row)).toBe('12 of cover plates');
  expect(sayRow(newRow('x'))).toBe('photographed, not named');
});
