import { jest } from '@jest/globals';
import type { BrowserContext, Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { OpeningRow } from '../../libs/contracts/src/opening-stock.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { OpeningDesk } from '../support/opening-desk.js';
import { phonePhotograph } from '../support/pictures.js';
import { Stock } from '../support/stock.js';
import { accepted } from '../support/write-making.js';
import { choosePlace, keyInto, pressByKey, tabTo } from './keying.js';
import { eventually, openScene, type Scene, scan } from './scene.js';
import { sendWhatWaits } from './send-photographs.js';

jest.setTimeout(180_000);

let scene: Scene;
let stock: Stock;
let desk: OpeningDesk;
let phone: Page;
let network: BrowserContext;
let rackId: string;
let shelfId: string;

beforeAll(async () => {
  scene = await openScene('openingweb');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  desk = new OpeningDesk(scene.owner);
  rackId = await desk.shelf('Rack Z', null, 'rack');
  phone = await scene.page({ viewport: { width: 360, height: 780 }, hasTouch: true });
  network = phone.context();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const said = () => phone.getByRole('status');
const rows = async (): Promise<OpeningRow[]> => (await desk.page(shelfId)).rows;
const photograph = async (name: string) => ({ name, mimeType: 'image/jpeg', buffer: await phonePhotograph(640, 480) });
const what = () => phone.getByLabel('What it is, or the number on it');
const next = () => phone.getByRole('button', { name: 'Next', exact: true });

async function keyRow(words: string, count: string): Promise<void> {
  await what().fill(words);
  await phone.getByLabel('How many').fill(count);
  await next().click();
  await said()
    .filter({ hasText: `Kept: ${count} of ${words}.` })
    .waitFor();
}

describe('a shelf at 360 px', () => {
  it('is added where somebody stands, and opens for its first row', async () => {
    await phone.goto('/stores/opening');
    await phone.getByRole('button', { name: 'A place that is not in the books yet' }).click();
    await phone.getByLabel('What it is called').fill('Z 1');
    await phone.getByRole('combobox', { name: 'Inside' }).fill('rack nobody has');
    await phone.getByRole('button', { name: 'Add it and open it' }).click();
    await phone.getByText('Choose the place from the list, or leave the field empty.').waitFor();
    await choosePlace(phone, 'Inside', 'rack z');
    await phone.getByRole('button', { name: 'Add it and open it' }).click();
    await phone.getByRole('heading', { name: 'Z 1', exact: true }).waitFor();
    shelfId = phone.url().split('/').at(-1)!;
    await phone.getByText('Nothing keyed yet').waitFor();
  });

  it('takes a photograph, a word, a count and a scanned label, and the next row is there', async () => {
    const [blank] = await desk.blanks('lot', 3);
    await eventually(async () => {
      const answer = phone.waitForResponse((response) => response.url().endsWith('/api/code-blocks'), { timeout: 3_000 });
      await phone.reload();
      await answer;
    });
    await phone.getByLabel('Photograph', { exact: true }).setInputFiles(await photograph('ring.jpg'));
    await phone
      .getByText(/^Sending 1 photograph|^1 photograph kept/)
      .first()
      .waitFor();
    await what().fill('oil flinger rings');
    await phone.getByLabel('How many').fill('12');
    await scan(phone, blank!);
    await said().filter({ hasText: 'is on this row.' }).waitFor();
    expect(await phone.getByLabel('How many').inputValue()).toBe('12');
    await next().click();
    await said().filter({ hasText: 'Kept: 12 of oil flinger rings.' }).waitFor();
    await eventually(async () => expect((await rows())[0]).toMatchObject({ code: blank, quantity: '12', standing: 'to name' }));
    await scan(phone, blank!);
    await said()
      .filter({ hasText: /keyed here already|on another row here/ })
      .waitFor();
  });

  it('keeps rows without a network, and each arrives once', async () => {
    await phone.getByRole('button', { name: /^Take 20 codes along/ }).click();
    await phone.getByRole('button', { name: 'Give it a code now: 20 along' }).waitFor();
    await network.setOffline(true);
    await phone.getByLabel('Photograph', { exact: true }).setInputFiles(await photograph('dark.jpg'));
    await phone
      .getByText(/^Sending 1 photograph|^1 photograph kept/)
      .first()
      .waitFor();
    await phone.getByRole('button', { name: 'Give it a code now: 20 along' }).click();
    await keyRow('selector forks', '2');
    await keyRow('lock plates', '30');
    const keyed = phone.getByRole('list', { name: 'Keyed here' });
    await keyed.getByText('kept on this device').nth(1).waitFor();
    expect(await rows()).toHaveLength(1);
    await network.setOffline(false);
    await keyed.getByText('kept on this device').first().waitFor({ state: 'detached', timeout: 70_000 });
    const all = await rows();
    expect(all.map(({ words, quantity }) => [words, quantity])).toEqual([
      ['oil flinger rings', '12'],
      ['selector forks', '2'],
      ['lock plates', '30'],
    ]);
    await phone.goto('/');
    await sendWhatWaits(phone, async () => {
      expect((await rows()).map(({ pictures }) => pictures.length)).toEqual([1, 1, 0]);
    });
  });

  it('puts away what is in the books already, tells a place from a thing, and asks of a thousand', async () => {
    const lot = await stock.lot(await stock.part({ name: 'Dog clutch' }));
    await phone.goto(`/stores/opening/shelf/${shelfId}`);
    await what().waitFor();
    await scan(phone, lot.code);
    await said()
      .filter({ hasText: /Dog clutch\..*now in Rack Z, Z 1/ })
      .waitFor();
    expect((await scene.owner.get<Thing>(`/api/things/${lot.id}`)).body.holdings).toMatchObject([{ holderId: shelfId }]);
    const { place } = await desk.page(shelfId);
    await scan(phone, place.code);
    await said().filter({ hasText: 'you are keying what lies here' }).waitFor();
    await what().fill('split pins');
    await phone.getByLabel('How many').fill(lot.code);
    await next().click();
    await phone.getByText(/is a label and no count/).waitFor();
    await phone.getByLabel('How many').fill('1000');
    await next().click();
    await phone.getByRole('button', { name: 'It is 1000' }).click();
    await eventually(async () => expect((await rows()).at(-1)).toMatchObject({ words: 'split pins', quantity: '1000' }));
  });

  it('shows what another keys there, puts a row right, strikes one out, and is done', async () => {
    await desk.keyed(shelfId, { words: 'keyed by another', count: '3' });
    const keyed = phone.getByRole('list', { name: 'Keyed here' });
    await keyed.getByText('3 of keyed by another').waitFor();
    const [pins] = (await rows()).filter(({ words }) => words === 'split pins');
    await phone.getByRole('button', { name: `Put right ${pins!.code}` }).click();
    await phone.getByLabel('How many').fill('900');
    await phone.getByRole('button', { name: 'Keep it so' }).click();
    await keyed.getByText('900 of split pins').waitFor();
    await phone.getByRole('button', { name: `Strike out ${pins!.code}` }).click();
    await phone.getByLabel('Why it is struck out').fill('they are in the next bin');
    await phone.getByRole('button', { name: 'Strike it out' }).click();
    await keyed.getByText('struck out').waitFor();
    await desk.shelf('Z 3', rackId);
    await phone.getByRole('button', { name: 'This shelf is done' }).click();
    await phone.getByRole('button', { name: 'Open it again' }).waitFor();
    await phone.goto('/stores');
    await phone.getByText(/What is not found may lie there/).waitFor();
    await phone.getByRole('link', { name: 'Opening stock', exact: true }).first().click();
    await phone.getByRole('button', { name: /^Rack Z .*begun 1 of 2 shelves/ }).waitFor();
  });

  it('takes a thing straight onto a job, by the card of the job', async () => {
    const job = await stock.job([{ partId: await stock.part() }]);
    const other = await desk.shelf('Z 2', rackId);
    await phone.goto(`/stores/opening/shelf/${other}`);
    await what().waitFor();
    await scan(phone, job.code);
    await said().filter({ hasText: 'The row goes straight onto' }).waitFor();
    await keyRow('pinion spacers', '2');
    // the label of a shelf leads to it, one that this device has seen without the network too
    const { place } = await desk.page(shelfId);
    await scan(phone, place.code);
    await phone.getByRole('heading', { name: 'Z 1', exact: true }).waitFor();
    await eventually(async () => expect((await desk.page(other)).rows[0]?.job).toMatchObject({ code: job.code }));
  });
});

describe('the desk at 1440 px, by keys alone', () => {
  it('names and costs a thing from its photograph, splits one, leaves one, scraps one', async () => {
    const partId = await stock.part({ name: 'Oil flinger', number: 'ZZ-4471' });
    const binId = await desk.shelf('Z 9', rackId);
    await stock.lot(partId, { quantity: '3', placeId: binId });
    const page = await scene.page();
    await page.goto('/stores/opening/desk');
    const act = (name: RegExp) => page.getByRole('button', { name });
    await page.getByText('12 of oil flinger rings').waitFor();
    await page.getByRole('img', { name: 'oil flinger rings, photograph 1' }).waitFor();
    await act(/^1 Name it/).waitFor();
    await page.keyboard.press('1');
    await page.getByLabel('Part number').waitFor();
    await page.keyboard.type('ZZ4471');
    await page.getByRole('option', { name: /ZZ-4471/ }).waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.getByText(/^Others of this part lie in Rack Z, Z 9 \(3\)/).waitFor();
    await tabTo(page, page.getByLabel('Source'));
    await page.keyboard.type('old');
    await tabTo(page, page.getByLabel('What all of it cost'));
    await page.keyboard.type('an est');
    await keyInto(page, 'Amount, GBP', '18');
    await page.keyboard.press('Enter');
    await page.getByText('Oil flinger it is, 12.').waitFor();
    const [named] = (await rows()).filter(({ part }) => part?.id === partId);
    expect(named).toMatchObject({ standing: 'named', costStanding: 'estimate' });

    await page.getByText('2 of selector forks').waitFor();
    await page.keyboard.press('2');
    await keyInto(page, 'What those are', 'a fork of another box');
    await page.keyboard.press('Enter');
    await page.getByText('selector forks', { exact: true }).waitFor();
    await page.keyboard.press('3');
    await page.getByText('selector forks: left for whoever is asked around.').waitFor();

    await page.getByText('30 of lock plates').waitFor();
    await page.keyboard.press('4');
    await keyInto(page, 'Why it is junk', 'rusted together');
    await page.keyboard.press('Enter');
    await page.getByText('lock plates: to scrap.').waitFor();
    await pressByKey(page, act(/^5 Next/));
    const standings = new Map((await rows()).map(({ words, standing }) => [words, standing]));
    expect([standings.get('selector forks'), standings.get('a fork of another box'), standings.get('lock plates')]).toEqual([
      'asked',
      'to name',
      'scrapped',
    ]);
    await page.goto('/stores/ask-around');
    await page.getByRole('article', { name: 'selector forks' }).waitFor();
    await page.context().close();
  });
});

it('says on Stores nothing of gaps once every shelf is in the books', async () => {
  const { racks } = await desk.progress();
  for (const { shelves } of racks) for (const { id } of shelves) await accepted(desk.done(id));
  const page = await scene.page();
  await page.goto('/stores/opening');
  await page.getByText(/Every shelf is in the books/).waitFor();
  await page.goto('/stores');
  await page.getByRole('heading', { name: 'Places' }).waitFor();
  expect(await page.getByText('What is not found may lie there').count()).toBe(0);
});
