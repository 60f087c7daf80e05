import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import { commandCards } from '../../libs/contracts/src/scanning.js';
import { CountingDesk } from '../support/counting-desk.js';
import { phonePhotograph } from '../support/pictures.js';
import { type Made, Stock } from '../support/stock.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let stock: Stock;
let page: Page;

beforeAll(async () => {
  scene = await openScene('counting');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

const strip = () => page.getByRole('region', { name: 'Scan', exact: true });
const says = async (...words: (string | RegExp)[]) => {
  for (const each of words) await strip().getByText(each).first().waitFor();
};
const allScanned = makeCode('K', commandCards.indexOf('all is scanned') + 1);

/** Scans a label and keys how many there are, as one stands at the shelf. */
async function count(thing: Made, quantity: string): Promise<void> {
  await scan(page, thing.code);
  await says('How many?');
  await keyNumber(quantity);
}

async function keyNumber(quantity: string): Promise<void> {
  await page.keyboard.press(quantity);
  await says(`${quantity} there?`);
  await page.keyboard.press('Enter');
}

async function beginToCount(place: Made): Promise<void> {
  await page.locator('body').press('F10');
  await page.getByRole('button', { name: 'Mode: count' }).waitFor();
  await scan(page, place.code);
  await says('This place', /Count \d+: you count/);
}

const line = (thing: Made, of: Page = page) => of.getByRole('article').filter({ hasText: new RegExp(thing.code.slice(1, -2)) });

it('goes by scan: the place once, each thing and its number, a found, a missing and a misplaced one, posted on the screen of the count', async () => {
  const [bin, other] = [await stock.place(), await stock.place()];
  const partId = await stock.part({ name: 'Spigot bush' });
  const [right, more, gone, astray] = [
    await stock.lot(partId, { quantity: '4', placeId: bin.id }),
    await stock.lot(partId, { quantity: '3', placeId: bin.id }),
    await stock.lot(partId, { quantity: '2', placeId: bin.id }),
    await stock.lot(partId, { quantity: '5', placeId: other.id }),
  ];
  await page.goto('/stores/counting');
  await page.getByRole('heading', { name: 'Counting' }).waitFor();
  await beginToCount(bin);
  await count(right, '4');
  await says('Counted', /Spigot bush, 4/);
  await count(more, '5');
  await says(/Spigot bush, 5/);
  await count(astray, '5');
  await eventually(async () =>
    expect(
      await strip()
        .getByText(/5: counted in/)
        .count(),
    ).toBeGreaterThan(0),
  );
  await scan(page, allScanned);
  await says('All scanned');

  // the example has a count of its own under way
  const open = (await new CountingDesk(scene.owner).list()).open.find(({ title }) => title.includes(bin.id));
  await page.getByRole('link', { name: `Go on with count ${open!.number}`, exact: true }).click();
  await page.getByRole('heading', { name: 'What differs' }).waitFor();
  await line(more).getByText('5 counted, 3 by the books: 2 more').waitFor();
  await line(gone).getByText('0 counted, 2 by the books: 2 fewer').waitFor();
  await line(astray)
    .getByText(/by the books 5 in Bin/)
    .waitFor();

  await line(more)
    .getByRole('button', { name: /^Post it/ })
    .click();
  await line(more).getByText('posted').waitFor();
  await line(astray)
    .getByRole('button', { name: /^It lies here now/ })
    .click();
  await line(astray).getByText('moved here').waitFor();
  await line(gone)
    .getByRole('button', { name: /^Mark it as not found/ })
    .click();
  await line(gone).getByText('marked as not found').waitFor();
  await page.getByRole('button', { name: /^Close count/ }).click();
  await page.getByText(/Posted .*, Mary Fenwright\./).waitFor();

  await page.goto(`/stores/things/${astray.id}`);
  await page.getByText(/last .* by Mary Fenwright, differed/).waitFor();
  await page.goto(`/stores/places/${bin.id}`);
  await page.getByText('3 of 4 lines differed').waitFor();
  await page.goto('/stores/counting');
  await page.getByRole('img', { name: /^Lines that agreed in 100, month by month/ }).waitFor();
  await page.getByText('By count, and how it is reckoned').click();
  await page.getByRole('cell', { name: '1 of 4' }).first().waitFor();
});

it('keeps what is scanned without a network, and compares it with the moment of the scan', async () => {
  const bin = await stock.place();
  const partId = await stock.part({ name: 'Locking tab' });
  const lot = await stock.lot(partId, { quantity: '6', placeId: bin.id });
  await page.goto('/stores/counting');
  await beginToCount(bin);
  await page.context().setOffline(true);
  await scan(page, lot.code);
  await says('Kept');
  await keyNumber('6');
  await says(/Count L .*, 6 Kept on this device/);
  // somebody else picks two of them before the scan arrives
  const job = await stock.job([{ partId, quantity: '2' }]);
  const picked = await scene.owner.post('/api/picks', { code: lot.code, jobId: job.id, quantity: '2' });
  expect(picked.status).toBe(200);
  await page.getByRole('button', { name: 'All is scanned here' }).click();
  await page.context().setOffline(false);
  const desk = new CountingDesk(scene.owner);
  const open = (await desk.list()).open.find(({ title }) => title.includes(bin.id));
  await eventually(async () => expect(await desk.differences(open!.id)).toMatchObject({ open: 0, agreed: 1 }));
  expect((await desk.end(open!.id)).status).toBe(200);
});

it('tells who counts at a place, and joins them by a second scan of it', async () => {
  const bin = await stock.place();
  const id = newId();
  await scene.owner.post('/api/people', { id, displayName: 'Ida Crake', signInName: 'ida-counts', role: 'bench' });
  const desk = new CountingDesk(scene.owner);
  const begun = await desk.begin({ placeId: bin.id });
  const [command] = await stock.query<{ key: string }>('SELECT key FROM commands LIMIT 1');
  await stock.query(
    'INSERT INTO count_takings (id, count_id, command_key, place_id, person_id, joined, occurred_at) VALUES (gen_random_uuid(), $1, $2, $3, $4, false, now())',
    [begun.body.id, command!.key, bin.id, id],
  );
  await page.goto('/stores/counting');
  await page.locator('body').press('F10');
  await page.getByRole('button', { name: 'Mode: count' }).waitFor();
  await scan(page, bin.code);
  await says('Ida Crake counts here', /scan this one once more to count here too/);
  await scan(page, bin.code);
  await says(/together with Ida Crake: what both of you count is shown as two/);
  expect((await desk.page(begun.body.id)).places[0]?.people).toEqual(['Ida Crake', 'Mary Fenwright']);
});

it('lets whoever was told that everybody has looked scan it again, in their own name', async () => {
  const bin = await stock.place();
  const lot = await stock.lot(await stock.part({ name: 'Thrust collar' }), { quantity: '6', placeId: bin.id });
  const desk = new CountingDesk(scene.owner);
  const countId = await desk.counted(bin, [[lot, '5']]);
  // all who work here have looked
  await stock.query("UPDATE people SET active = false WHERE role <> 'owner'");
  await desk.decide(countId, await desk.line(countId, lot, bin), 'again', { why: 'look behind it' });
  await page.goto(`/stores/counting/${countId}`);
  await page.getByText('Mary Fenwright has looked, and nobody is left: anybody looks once more, in their own name').waitFor();
  await beginToCount(bin);
  await scan(page, lot.code);
  await says('Nobody else can look', /Mary Fenwright has looked at this here before, .* that is in your own name/);
  await scan(page, lot.code);
  await says('How many?');
  await keyNumber('6');
  await says(/In your own name: everybody had looked before/);
  await eventually(async () => expect(await desk.differences(countId)).toMatchObject({ open: 0, agreed: 1 }));
  expect((await desk.end(countId)).status).toBe(200);
});

it('keeps what is found and its photograph without a network, and the thing that it becomes has the photograph', async () => {
  const bin = await stock.place();
  const lot = await stock.lot(await stock.part({ name: 'Oil catcher' }), { quantity: '2', placeId: bin.id });
  const desk = new CountingDesk(scene.owner);
  const { count } = (await desk.take(bin)).body;
  const phone = await scene.page({ viewport: { width: 360, height: 780 }, hasTouch: true });
  await phone.goto(`/stores/counting/${count.id}`);
  await phone.getByRole('button', { name: 'Write something down' }).waitFor();
  await phone.context().setOffline(true);
  await phone.getByRole('button', { name: 'Write something down' }).click();
  const form = phone.getByRole('form', { name: 'Write something down' });
  const file = { name: 'seal.jpg', mimeType: 'image/jpeg', buffer: await phonePhotograph(640, 480) };
  await form.getByLabel('Photograph', { exact: true }).setInputFiles(file);
  await form.getByRole('img', { name: 'Photograph that is on its way' }).waitFor();
  await form.getByLabel('What it is').fill('a seal in brown paper');
  await form.getByRole('button', { name: 'Keep it' }).click();
  await phone.getByText('kept on this device', { exact: true }).waitFor();
  expect((await desk.page(count.id)).findings).toEqual([]);
  await phone.context().setOffline(false);
  await eventually(async () =>
    expect((await desk.page(count.id)).findings).toMatchObject([
      { words: 'a seal in brown paper', pictures: [{ shows: 'finding' }] },
    ]),
  );
  await phone
    .getByRole('img', { name: /a seal in brown paper/ })
    .first()
    .waitFor();

  // and a figure that is doubted, with the label scanned
  await phone.getByRole('button', { name: 'Write something down' }).click();
  await phone.getByText('I doubt how many there are').click();
  await form.getByLabel('The label that is on it').fill(lot.code);
  await form.getByLabel('Photograph', { exact: true }).setInputFiles({ ...file, name: 'bag.jpg' });
  await form.getByLabel('What makes you doubt').fill('the bag is torn');
  await form.getByRole('button', { name: 'Keep it' }).click();
  await desk.enter(bin, lot, '1');
  await desk.close(bin);
  await phone.reload();
  await line(lot, phone).getByText('the bag is torn').waitFor();
  await eventually(async () => expect(await line(lot, phone).getByRole('img').count()).toBe(1));
  await phone.getByRole('button', { name: 'Book it as unsorted: a seal in brown paper' }).click();
  await phone.getByText('made a thing of its own').waitFor();
  const made = (await desk.page(count.id)).findings.find(({ ended }) => ended !== null)!.ended!.thing!;
  await phone.goto(`/stores/things/${made.id}`);
  await phone
    .getByRole('img', { name: /a seal in brown paper/ })
    .first()
    .waitFor();
  await phone.context().close();
});
