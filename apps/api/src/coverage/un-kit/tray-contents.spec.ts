import { type BroughtIn, type InTray, trayRows } from './tray-contents.js';

const seal = { id: 'seal', code: 'L00000112', name: 'Oil seal' };
const place = (name: string) => ({ id: name, code: 'P00000112', name, path: `Stores, ${name}` });
const lying = (quantity: string): InTray => ({ thing: seal, unitOfMeasure: 'each', quantity });
const brought = (quantity: string, from: string | null, reserved = '0'): BroughtIn => ({
  thingId: 'seal',
  quantity,
  from: from === null ? null : place(from),
  words: 'picked',
  reserved,
});
const short = (rows: ReturnType<typeof trayRows>) =>
  rows.map(({ from, quantity, reserved }) => [from?.name ?? null, quantity, reserved]);

describe('what lies in a tray', () => {
  it('came from where it was brought from last, in walking order', () => {
    const rows = trayRows([lying('3')], [brought('1', 'Bin 10'), brought('2', 'Bin 2'), brought('4', 'Bin 1')]);
    expect(short(rows)).toEqual([
      ['Bin 2', '2', '0'],
      ['Bin 10', '1', '0'],
    ]);
  });

  it('is one row for each place, with what of it was reserved before', () => {
    const rows = trayRows([lying('3')], [brought('2', 'Bin 2', '2'), brought('4', 'Bin 2', '3')]);
    expect(short(rows)).toEqual([['Bin 2', '3', '3']]);
  });

  it('has no place where it was found in hand, or nobody knows how it came; such rows are last', () => {
    expect(short(trayRows([lying('3')], [brought('1', null), brought('1', 'Bin 2')]))).toEqual([
      ['Bin 2', '1', '0'],
      [null, '2', '0'],
    ]);
    expect(short(trayRows([lying('1')], []))).toEqual([[null, '1', '0']]);
  });
});
