import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { WorkshopClock } from '../../apps/api/src/people/workshop.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { addDays } from '../../libs/quantities/src/plain-date.js';
import { addPerson } from '../support/bare-server.js';
import { Stock } from '../support/stock.js';
import { pressFolded, unfoldActs } from './acts.js';
import { choosePlace } from './keying.js';
import { openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;
/** The screen of Jess, who keeps no books. */
let bench: Page;

beforeAll(async () => {
  scene = await openScene('goodsapart');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
  const jess = await addPerson(scene.server, scene.owner, 'bench', 'jess', 'Jess Arkwright');
  const context = await scene.context();
  const [name, value] = (jess.cookie ?? '').split('=') as [string, string];
  await context.addCookies([{ name, value, domain: '127.0.0.1', path: '/', secure: true }]);
  bench = await context.newPage();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const today = () => new Date().toISOString().slice(0, 10);

it('a hold names another person: its page offers the lifting to her alone, and she lifts it', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Thrust race' }));
  await page.goto('/');
  await scan(page, lot.code);
  await page.goto(`/stores/things/${lot.id}`);
  await pressFolded(page, 'Hold it back');
  await page.getByLabel('Why it is held back').fill('ask the maker what the stamp means');
  await page.getByLabel('Who may lift it').selectOption({ label: 'Jess Arkwright' });
  await page.getByRole('button', { name: 'Hold it back' }).click();
  await page.getByText(/It may be lifted by Jess Arkwright/).waitFor();
  await unfoldActs(page);
  await page.getByRole('button', { name: 'Keep it held back' }).waitFor();
  expect(await page.getByRole('button', { name: 'Lift the hold' }).count()).toBe(0);

  await page.goto('/stores/held-back');
  await page.getByLabel('In the order').selectOption({ label: 'by who may lift it' });
  await page
    .getByRole('region', { name: 'Lifted by Jess Arkwright' })
    .getByRole('link', { name: /Thrust race/ })
    .waitFor();

  await bench.goto(`/stores/things/${lot.id}`);
  await bench.getByRole('button', { name: 'Lift the hold' }).click();
  await bench.getByLabel('Why the hold is lifted').fill('it is the year');
  await bench.getByRole('button', { name: 'Lift the hold' }).click();
  await bench.getByText(/^hold lifted: it is the year/).waitFor();
  await bench.getByText('Not for service').waitFor({ state: 'detached' });
});

it('a whole bin is held back at once on its page', async () => {
  const place = await stock.place();
  for (const name of ['Dog clutch', 'Dog collar']) await stock.lot(await stock.part({ name }), { placeId: place.id });
  await page.goto(`/stores/places/${place.id}`);
  await pressFolded(page, 'Hold back all that lies here');
  await page.getByLabel('Why it is held back').fill('out of a flooded shed');
  await page.getByRole('button', { name: 'Hold it back' }).click();
  await page.getByText(/^2 things are held back in Bin/).waitFor();
});

it('condemning says that it is for good, wants a photograph or a word, and then only offers what becomes of it', async () => {
  const lot = await stock.lot(await stock.part({ name: 'Selector fork' }));
  await page.goto(`/stores/things/${lot.id}`);
  await pressFolded(page, 'Condemn it');
  await page.getByText('This is for good.').waitFor();
  await page.getByLabel('Why it is condemned').fill('cracked at the root');
  await page.getByRole('button', { name: 'Condemn it for good' }).click();
  await page.getByText('Photograph it first, or say why there is no photograph.').waitFor();
  await page.getByLabel('Why there is no photograph').fill('the camera is away');
  await page.getByRole('button', { name: 'Condemn it for good' }).click();
  await page.getByText(/^Condemned for good: it serves no job/).waitFor();
  await unfoldActs(page);
  expect(await page.getByRole('button', { name: /^(Hold it back|Lift the hold|Condemn it)$/ }).count()).toBe(0);
  await page.getByRole('button', { name: 'What becomes of it' }).click();
  await page.getByText('To scrap', { exact: true }).click();
  await page.getByLabel('In words').fill('in the iron skip');
  await page.getByRole('button', { name: 'Put it on the record' }).click();
  await page
    .getByText(/^scrapped: in the iron skip/)
    .first()
    .waitFor();
});

it('found property is written down, reaches Today when its day is there, and its owner claims it', async () => {
  await stock.customer('Ockley and Sons');
  const begun = today();
  const place = await stock.place();
  await page.goto('/stores/kept-for-owners');
  await page.getByRole('button', { name: 'Something was found' }).click();
  await page.getByLabel('What it is').fill('Box of thread gauges');
  await page.getByLabel('Where it was found').fill('behind the boiler');
  await choosePlace(page, 'Where it lies now', place.id);
  await page.getByLabel('Look again on').fill(addDays(begun, 3));
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.getByText(/^Box of thread gauges is/).waitFor();

  const item = page.getByRole('listitem').filter({ hasText: 'Box of thread gauges: found property' });
  await page.goto('/');
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  const clock = scene.server.app.get(WorkshopClock);
  const { now } = clock as unknown as { now: () => Date };
  Object.assign(clock, { now: () => new Date(`${addDays(begun, 4)}T12:00:00Z`) });
  try {
    await page.reload();
    await item.getByText(/was to be looked at again on/).waitFor();
    await item.getByRole('link', { name: 'Look at it' }).click();
    await page
      .getByText(/^overdue, look again/)
      .first()
      .waitFor();
    await page
      .getByRole('button', { name: /^What became of it/ })
      .first()
      .click();
    await page.getByRole('radio', { name: 'Its owner claims it' }).check({ force: true });
    await page.getByLabel('Whose it is').fill('Ockley and Sons');
    await page.getByLabel('In words').fill('he knew the lid');
    await page.getByRole('button', { name: 'Put it on the record' }).click();
    await page.getByRole('button', { name: /^What has become of others/ }).waitFor();
    await page.goto('/stores/not-ours');
    await page
      .getByRole('region', { name: 'Ockley and Sons' })
      .getByRole('link', { name: /Box of thread gauges/ })
      .waitFor();
    await page.getByRole('link', { name: 'A list for Ockley and Sons' }).click();
    await page.getByRole('heading', { name: 'What of yours lies here' }).waitFor();
  } finally {
    Object.assign(clock, { now });
  }
});
