import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type { ShelfLife } from '../../libs/contracts/src/shelf-life.js';
import { keyInto, pressByKey, tabTo } from './keying.js';
import { openScene, type Scene } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('shelflife');
  page = await scene.page();
});
afterAll(async () => {
  await scene.stop();
});

describe('what has aged, by keyboard alone', () => {
  it('leads from Today through the list to a lot, which an inspection extends', async () => {
    // in its first period today: the list is asked about a day after its end
    const all = (await scene.owner.get<ShelfLife>('/api/shelf-life?on=2033-01-01')).body.places.flatMap(({ lots }) => lots);
    const lot = all.find((each) => each.standing === 'extendable' && each.heldBack === null);
    if (lot === undefined) throw new Error('The example workshop has no rubber that will be extendable.');
    await pressByKey(page, page.getByRole('link', { name: 'Go through them' }));
    await page.getByRole('heading', { name: 'Shelf life' }).waitFor();
    const text = page.getByRole('link', { name: new RegExp(lot.code.slice(1, 7)) });
    expect(await text.count()).toBe(0);
    await tabTo(page, page.getByLabel('As it stands on'));
    await page.keyboard.type('01012033');
    await page.keyboard.press('Enter');
    await text.waitFor();
    expect(new URL(page.url()).searchParams.get('on')).toBe('2033-01-01');
    await pressByKey(page, text);
    await pressByKey(page, page.getByRole('button', { name: 'More to do with it' }));
    await pressByKey(page, page.getByRole('button', { name: 'Inspect it' }));
    await keyInto(page, 'What was looked at', 'the lip and the spring, under the glass');
    await tabTo(
      page,
      page
        .getByRole('radio', { name: /^Not passed/ })
        .or(page.getByRole('radio', { name: 'Passed', exact: true }))
        .first(),
    );
    await page.keyboard.press('Space');
    await keyInto(page, 'What was found', 'supple');
    await page.keyboard.press('Enter');
    // its first period is still long, so the extension is refused with the day, and what was keyed is kept
    await page.getByText('This cannot be extended').waitFor();
    expect(await page.getByLabel('What was found').inputValue()).toBe('supple');
  });

  it('puts an inspection that was not passed on the record, and holds the lot back', async () => {
    await tabTo(page, page.getByRole('radio', { name: 'Passed', exact: true }));
    await page.keyboard.press('ArrowRight');
    await keyInto(page, 'What was found', 'the lip has taken a set');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Inspections' }).waitFor();
    await page.getByText(/Held back by .*: did not pass inspection: the lip has taken a set/).waitFor();
    await page.getByRole('cell', { name: 'not passed' }).waitFor();
    expect(scene.complaints).toEqual([]);
  });
});
