import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LoadPage, LoadRow } from '../../libs/contracts/src/goods-in.js';
import { keyCells, keyRow, pressByKey, tabTo } from './keying.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;
const loadId = '0195f200-0000-7000-8000-00000000aa01';

beforeAll(async () => {
  scene = await openScene('several');
  await scene.owner.post('/api/loads', {
    id: loadId,
    words: 'Loft of a closed works',
    sellerName: 'Dray & Tolliver',
    boughtOn: '2026-11-20',
  });
  page = await scene.page();
  await page.goto(`/goods-in/${loadId}`);
  await pressByKey(page, page.getByRole('button', { name: 'Key a row' }));
});
afterAll(async () => {
  await scene.stop();
});

async function rows(): Promise<LoadRow[]> {
  return (await scene.owner.get<LoadPage>(`/api/loads/${loadId}`)).body.rows;
}

/** The rows that stand, as position and what is asked of them. */
async function standing<Value>(value: (row: LoadRow) => Value): Promise<Value[]> {
  return (await rows()).filter((row) => !row.struckOut).map(value);
}

const doneLast = (words: string) => page.getByRole('status').getByText(`Done last: ${words}.`);

/** What a spreadsheet gives on a copy, into the field that has the focus. */
async function paste(text: string): Promise<void> {
  await page.evaluate((copied) => {
    const data = new DataTransfer();
    data.setData('text/plain', copied);
    document.activeElement?.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
  }, text);
}

describe('several rows in one go, by keyboard alone', () => {
  it('adds so many like the row in hand, each with a code of its own and without its marks', async () => {
    await keyCells(page, { kind: 'u', cells: { type: 'S11', grade: 'C', marks: 'S11 20946' } });
    await page.keyboard.press('Control+Enter');
    await page.getByLabel('How many more like this one').waitFor();
    await page.keyboard.type('0');
    await page.keyboard.press('Enter');
    await page.getByText('Key a number from 1 to 200.').waitFor();
    await page.keyboard.press('Backspace');
    await page.keyboard.type('6');
    await page.keyboard.press('Enter');
    await doneLast('6 more like row 1').waitFor();
    await eventually(async () => expect(await standing((row) => row.position)).toEqual([1, 2, 3, 4, 5, 6, 7]));
    const kept = await rows();
    expect(new Set(kept.map((row) => row.code)).size).toBe(7);
    expect(kept.map((row) => row.unitType?.id === kept[0]!.unitType?.id && row.grade === 'C')).not.toContain(false);
    expect(kept.map((row) => row.marks)).toEqual(['S11 20946', '', '', '', '', '', '']);
  });

  it('writes a cell into the rows below, as many as are asked for', async () => {
    await pressByKey(page, page.getByRole('button', { name: 'Change row 2', exact: true }));
    await tabTo(page, page.getByLabel('grade', { exact: true }));
    await page.keyboard.press('Control+a');
    await page.keyboard.type('D');
    await page.keyboard.press('Control+ArrowDown');
    const below = page.getByLabel('Into how many rows below: grade, state “D”');
    await below.waitFor();
    expect(await below.inputValue()).toBe('5');
    await page.keyboard.press('Control+a');
    await page.keyboard.type('2');
    await page.keyboard.press('Enter');
    await eventually(async () => expect(await standing((row) => row.grade)).toEqual(['C', 'D', 'D', 'D', 'C', 'C', 'C']));
    await doneLast('grade, state of row 2 into 2 rows below').waitFor();
  });

  it('takes back what was done last, and then what was done before it', async () => {
    await tabTo(page, page.getByLabel('marks'));
    await page.keyboard.press('Alt+Backspace');
    await eventually(async () => expect(await standing((row) => row.grade)).toEqual(['C', 'D', 'C', 'C', 'C', 'C', 'C']));
    await doneLast('row 2').waitFor();
    await pressByKey(page, page.getByRole('button', { name: /^Take it back/ }));
    await eventually(async () => expect(await standing((row) => row.grade)).toEqual(['C', 'C', 'C', 'C', 'C', 'C', 'C']));
    await doneLast('6 more like row 1').waitFor();
    await pressByKey(page, page.getByRole('button', { name: /^Take it back/ }));
    await eventually(async () => expect(await standing((row) => row.position)).toEqual([1]));
    // they stay on the record, and their codes are void
    expect((await rows()).filter((row) => row.struckOut)).toHaveLength(6);
  });

  it('takes a whole row from the one above', async () => {
    // the row in hand was one of those taken back: the next is in hand by itself
    await keyRow(page, { kind: 'l', cells: { 'part number, or name': '48-2206', count: '16', 'packet date': 'Mar 1952' } });
    await eventually(async () => expect(await standing((row) => row.kind)).toEqual(['unit', 'lot']));
    await page.keyboard.press('Control+"');
    await eventually(async () => expect(await page.getByLabel('packet date').inputValue()).toBe('Mar 1952'));
    await page.keyboard.press('Enter');
    await eventually(async () => expect(await standing((row) => row.part?.number ?? null)).toEqual([null, '48-2206', '48-2206']));
  });

  it('looks over rows pasted from a spreadsheet, and takes in those that can be', async () => {
    await paste(
      'Part no.\tQty\tPacket date\tPlace\tShelf\r\n48-2230\t6\t3/94\tR1 B01\ta\r\n1.20E+04\t1\t\t\tb\r\n48-2218\t2\t1954\t\tc\r\nno such number\t4\t\t\td',
    );
    const sheet = page.getByRole('dialog', { name: 'Rows from a spreadsheet' });
    await sheet.getByText('3 rows can be taken in. 1 is left out, and why stands below.').waitFor();
    await sheet.getByText('Row 2: “1.20E+04”: the spreadsheet has shortened this number', { exact: false }).waitFor();
    await sheet.getByLabel('Column 5, “Shelf”').selectOption('note');
    await pressByKey(page, sheet.getByRole('button', { name: 'Take 3 rows in' }));
    await eventually(async () =>
      expect(
        (await standing((row) => [row.part?.number ?? row.words, row.quantity, row.packet?.asRead ?? '', row.note])).slice(3),
      ).toEqual([
        ['48-2230', '6', '3/94', 'a'],
        ['48-2218', '2', '1954', 'c'],
        ['no such number', '4', '', 'd'],
      ]),
    );
    expect((await rows()).find((row) => row.part?.number === '48-2230')?.place?.path).toBe('Stores, Rack 1, Bin 01');
    await doneLast('3 rows from a spreadsheet').waitFor();
  });

  it('keeps rows alike while there is no network, takes none of them back until the server has answered, and then does', async () => {
    const before = (await standing((row) => row.id)).length;
    await page.context().setOffline(true);
    await pressByKey(page, page.getByRole('button', { name: 'Change row 9', exact: true }));
    await page.getByLabel('note').waitFor();
    await page.keyboard.press('Control+Enter');
    await page.getByLabel('How many more like this one').waitFor();
    await page.keyboard.type('2');
    await page.keyboard.press('Enter');
    await page.getByText('it can be taken back when it has answered', { exact: false }).waitFor();
    expect(await page.getByRole('button', { name: /^Take it back/ }).count()).toBe(0);
    await page.context().setOffline(false);
    await eventually(async () => expect(await standing((row) => row.id)).toHaveLength(before + 2));
    await pressByKey(page, page.getByRole('button', { name: /^Take it back/ }));
    await eventually(async () => expect(await standing((row) => row.id)).toHaveLength(before));
  });

  it('leaves the books in order and the consoles silent', async () => {
    expect(await verifyBooks(scene.server.database)).toEqual([]);
    expect(scene.complaints).toEqual([]);
  });
});
