import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { CountSettings } from '../../libs/contracts/src/counting.js';
import type { PlacePage } from '../../libs/contracts/src/places.js';
import type { PlaceBrief } from '../../libs/contracts/src/stores.js';
import { type Made, Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { pressByKey } from './keying.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let stock: Stock;
let page: Page;

beforeAll(async () => {
  scene = await openScene('placesweb');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

async function place(name: string, kind: string, parentId: string | null = null): Promise<PlaceBrief> {
  const made = await scene.owner.post<PlaceBrief>('/api/places', { id: newId(), parentId, name, kind });
  expect(made.status).toBe(200);
  return made.body;
}
async function lotsIn(placeId: string, count: number, name = 'Split pin'): Promise<Made[]> {
  const partId = await stock.part({ name });
  const lots: Made[] = [];
  for (let made = 0; made < count; made += 1) lots.push(await stock.lot(partId, { quantity: '3', placeId }));
  return lots;
}
const lyingIn = async (id: string) => (await scene.owner.get<PlacePage>(`/api/places/${id}`)).body.contents.length;
const comesTo = (id: string, count: number) => eventually(async () => expect(await lyingIn(id)).toBe(count));
const strip = () => page.getByRole('region', { name: 'Scan', exact: true });

async function choosePutAway(path: string): Promise<void> {
  await page.goto(path);
  await page.getByRole('button', { name: /^Mode: / }).waitFor();
  await page.keyboard.press('F2');
  await page.keyboard.press('F9');
  await page.getByRole('button', { name: 'Mode: put away' }).waitFor();
}

describe('put away by scan', () => {
  it('asks of a bin that is scanned after a place whether it was meant as a thing; all that lies in it goes at once and back at once', async () => {
    const [rack, bin] = [await place('Rack of one act', 'rack'), await place('Box of odds', 'bin')];
    await lotsIn(bin.id, 4);
    await choosePutAway('/stores/unidentified');
    await scan(page, rack.code);
    await strip().getByText('This place').waitFor();
    await scan(page, bin.code);
    const asked = strip().getByRole('group', { name: /Was Box of odds scanned as a thing\? Nothing has moved/ });
    await asked.waitFor();
    expect([await lyingIn(bin.id), await lyingIn(rack.id)]).toEqual([4, 0]);
    await page.keyboard.press('1');
    await strip().getByText('4 things out of Box of odds: now in Rack of one act.').waitFor();
    expect([await lyingIn(bin.id), await lyingIn(rack.id)]).toEqual([0, 4]);
    expect(await asked.count()).toBe(0);
    await strip().getByText('Rack of one act', { exact: false }).first().waitFor();
    await strip().getByRole('button', { name: 'Put it back' }).click();
    await strip()
      .getByText(/4 things are back where they were/)
      .waitFor();
    expect([await lyingIn(bin.id), await lyingIn(rack.id)]).toEqual([4, 0]);
  });

  it('carries the bin itself, which moves nothing, and goes on with the place that was scanned where nobody answers', async () => {
    const [rack, bin, next] = [
      await place('Rack by the door', 'rack'),
      await place('Red box', 'bin'),
      await place('Blue box', 'bin'),
    ];
    const [lot] = (await lotsIn(bin.id, 1)) as [Made];
    await choosePutAway('/stores/unidentified');
    await scan(page, rack.code);
    await strip().getByText('This place').waitFor();
    await scan(page, bin.code);
    await strip()
      .getByRole('button', { name: /Red box itself is carried to Rack by the door/ })
      .click();
    await strip()
      .getByText(/Red box is now in Rack by the door, with all that lies in it/)
      .waitFor();
    expect((await scene.owner.get<PlacePage>(`/api/places/${bin.id}`)).body.path).toBe('Rack by the door, Red box');
    await strip().getByRole('button', { name: 'Put it back' }).click();
    await eventually(async () => expect((await scene.owner.get<PlacePage>(`/api/places/${bin.id}`)).body.path).toBe('Red box'));

    await scan(page, next.code);
    await strip()
      .getByRole('group', { name: /Was Blue box scanned as a thing/ })
      .waitFor();
    await scan(page, lot.code);
    await strip()
      .getByText(/now in Blue box\./)
      .waitFor();
    await comesTo(next.id, 1);
  });

  it('takes so many as are keyed after the scan, so that one lot lies in two places, and says beforehand where its like lie', async () => {
    const [bin, other] = [await place('Tin of pins', 'bin'), await place('Second tin', 'bin')];
    const [lot, like] = (await lotsIn(bin.id, 2, 'Taper pin, long')) as [Made, Made];
    await choosePutAway('/stores/unidentified');
    await scan(page, lot.code);
    await strip().getByText('No place yet: nothing was moved', { exact: false }).waitFor();
    await strip().getByText('Others of this part lie in Tin of pins (3)', { exact: false }).waitFor();
    await scan(page, other.code);
    await strip().getByText('This place').waitFor();
    await scan(page, like.code);
    await strip()
      .getByText(/Taper pin, long, 3: now in Second tin/)
      .waitFor();
    await page.keyboard.press('1');
    await strip()
      .getByText(/Taper pin, long, 1: now in Second tin/)
      .waitFor();
    expect([await lyingIn(bin.id), await lyingIn(other.id)]).toEqual([2, 1]);
  });
});

describe('the page of a place', () => {
  it.each([360, 820, 1440])(
    '%i px wide is a shelf: bins in order, what lies in each, empty ones empty, nothing beyond the edge',
    async (width) => {
      const rack = await place(`Rack ${width}`, 'rack');
      const bins: PlaceBrief[] = [];
      for (const number of ['10', '2', '1']) bins.push(await place(`Bin ${number}`, 'bin', rack.id));
      const [held] = (await lotsIn(bins[1]!.id, 5, 'Felt ring')) as [Made];
      await scene.owner.post(`/api/things/${held.id}/hold`, { reason: 'moth' }, { ifMatch: 1 });
      await page.setViewportSize({ width, height: 900 });
      await page.goto(`/stores/places/${rack.id}`);
      const shelf = page.getByRole('list', { name: `Places in Rack ${width}` });
      await shelf.getByRole('link').first().waitFor();
      const said = await shelf.getByRole('link').allInnerTexts();
      expect(said.map((words) => /^Bin \d+/.exec(words)?.[0])).toEqual(['Bin 1', 'Bin 2', 'Bin 10']);
      expect(said[0]).toMatch(/empty/);
      expect(said[1]).toMatch(/3 Felt ring[\s\S]*held back: moth[\s\S]*and 1 more/);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
      await pressByKey(page, shelf.getByRole('link', { name: /^Bin 2 / }));
      await page.getByRole('heading', { name: 'What lies here' }).waitFor();
      await page.getByRole('link', { name: /Felt ring.*held back: moth/ }).waitFor();
      expect(await page.getByRole('list', { name: 'What lies here' }).getByRole('link').count()).toBe(5);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
      await page.setViewportSize({ width: 1440, height: 1000 });
    },
  );

  it('of 200 bins and of 500 things draws those near the window alone, and comes to the last', async () => {
    const rack = await place('Great rack', 'rack');
    await stock.query(
      `WITH made AS (INSERT INTO holders (id, kind) SELECT gen_random_uuid(), 'place' FROM generate_series(1, 200) RETURNING id),
            numbered AS (SELECT id, row_number() OVER () AS number FROM made),
            placed AS (INSERT INTO places (holder_id, parent_id, name, kind) SELECT id, $1, 'Bin ' || number, 'bin' FROM numbered)
       INSERT INTO codes (code, kind, subject_id) SELECT 'P8' || lpad(number::text, 7, '0') || '00', 'P', id FROM numbered`,
      [rack.id],
    );
    await stock.query(
      `WITH made AS (INSERT INTO things (id, kind) SELECT gen_random_uuid(), 'L' FROM generate_series(1, 500) RETURNING id),
            lots AS (INSERT INTO lots (thing_id, words, source, make) SELECT id, 'bag of washers', 'new', 'unknown' FROM made),
            coded AS (INSERT INTO codes (code, kind, subject_id) SELECT 'L8' || lpad((row_number() OVER ())::text, 7, '0') || '00', 'L', id FROM made)
       SELECT id FROM made`,
    );
    await stock.query(
      `INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, occurred_at)
       SELECT gen_random_uuid(), (SELECT command_key FROM movements LIMIT 1), thing_id, 1, '00000000-0000-7000-8000-00000000c0d1', $1, 'opening stock', now()
         FROM lots WHERE words = 'bag of washers'`,
      [rack.id],
    );
    await page.goto(`/stores/places/${rack.id}`);
    const lying = page.getByRole('list', { name: 'What lies here' });
    await lying.getByRole('link').first().waitFor();
    expect(await lying.getByRole('link').count()).toBeLessThan(120);
    const bins = page.getByRole('list', { name: 'Places in Great rack' });
    await eventually(async () => {
      await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight));
      await bins.getByRole('link', { name: /^Bin 200 / }).waitFor({ timeout: 500 });
    });
    expect(await bins.getByRole('link').count()).toBeLessThan(160);
    await page.evaluate(() => window.scrollTo(0, 0));
  });

  it('empties it into another place, carries, renames, adds and closes, each with the way back', async () => {
    const [bin, target, rack] = [
      await place('Old drawer', 'bin'),
      await place('New drawer', 'bin'),
      await place('Tall rack', 'rack'),
    ];
    await lotsIn(bin.id, 3);
    await page.goto(`/stores/places/${bin.id}`);
    await page.getByRole('button', { name: 'Move all that lies here' }).click();
    await page.getByRole('combobox', { name: 'Where all of it goes' }).fill('new drawer');
    await page.getByRole('option', { name: /New drawer/ }).click();
    await page.getByRole('button', { name: 'Move all of it' }).click();
    await page.getByText('3 things out of Old drawer: now in New drawer.').waitFor();
    await page.getByRole('heading', { name: 'Nothing is here' }).waitFor();
    await page.getByRole('button', { name: 'Put it back' }).click();
    await comesTo(bin.id, 3);
    expect(await lyingIn(target.id)).toBe(0);

    await pressFolded(page, 'Close it');
    await page.getByRole('button', { name: 'Close it' }).click();
    await page.getByText(/3 things lie in Old drawer/).waitFor();
    await page.getByRole('button', { name: 'Leave it' }).click();

    await page.goto(`/stores/places/${target.id}`);
    await pressFolded(page, 'Carry it elsewhere');
    await scan(page, rack.code);
    await eventually(async () =>
      expect(await page.getByRole('combobox', { name: 'Where it stands then' }).inputValue()).toBe('Tall rack'),
    );
    await page.getByRole('button', { name: 'It stands there' }).click();
    await page.getByRole('heading', { name: 'Tall rack, New drawer' }).waitFor();

    await pressFolded(page, 'Name and kind');
    await page.getByLabel('What it is called').fill('Third drawer');
    await page.getByLabel('What people call it too').fill('the sticky one');
    await page.getByRole('button', { name: 'Change it' }).click();
    await page.getByRole('heading', { name: 'Tall rack, Third drawer' }).waitFor();

    await pressFolded(page, 'Close it');
    await page.getByRole('button', { name: 'Close it' }).click();
    await page.getByText(/^Closed since .*, by Mary Fenwright\. It takes no goods/).waitFor();
    await page.getByRole('button', { name: 'Open it again' }).click();
    await page.getByRole('button', { name: 'Open it again' }).click();
    await page.getByText(/^Closed since/).waitFor({ state: 'detached' });

    await pressFolded(page, 'Add a place in it');
    await page.getByLabel('What it is called').fill('Tin');
    await page.getByRole('button', { name: 'Add it', exact: true }).click();
    await page.getByRole('list', { name: 'Places in Third drawer' }).getByRole('link', { name: /^Tin / }).waitFor();
  });
});

describe('the places in Stores', () => {
  it('open level by level, by keys too, and stay as they were left', async () => {
    const area = await place('Cellar', 'area');
    const racks = [await place('Rack 10', 'rack', area.id), await place('Rack 9', 'rack', area.id)];
    await place('Bin 1', 'bin', racks[0]!.id);
    await page.goto('/stores');
    const tree = page.getByRole('list', { name: 'Places', exact: true });
    await tree.getByText('Cellar', { exact: true }).waitFor();
    expect(await tree.getByText('Rack 10', { exact: true }).count()).toBe(0);
    await tree.getByRole('listitem').filter({ hasText: 'Cellar' }).getByText('3 places, empty').waitFor();
    await pressByKey(page, tree.getByRole('button', { name: 'open what stands in Cellar' }));
    await tree.getByText('Rack 10', { exact: true }).waitFor();
    const names = await tree.getByRole('link').allInnerTexts();
    expect(names.findIndex((name) => name.includes('Rack 9'))).toBeLessThan(names.findIndex((name) => name.includes('Rack 10')));
    await tree.getByRole('link', { name: /Rack 9/ }).click();
    await page.getByRole('heading', { name: 'Cellar, Rack 9' }).waitFor();
    await page.goBack();
    await tree.getByRole('button', { name: 'shut what stands in Cellar' }).waitFor();
    await tree.getByText('Rack 10', { exact: true }).waitFor();
  });
});

it('is chosen for a term of counting by words of its way, and nothing is kept before it is', async () => {
  const rack = await place('Rack of scarce things', 'rack');
  const drawer = await place('Second drawer', 'bin', rack.id);
  await page.goto('/settings');
  const form = page.getByRole('form', { name: 'How often is counted' });
  await form.getByRole('button', { name: 'Count one place or kind of place otherwise' }).click();
  await form.getByLabel('Of these').last().selectOption('one place');
  await form.getByText('Choose the place from the list').waitFor();
  await form.getByRole('button', { name: 'Keep how often is counted' }).click();
  // the example counts one rack otherwise already
  const field = form.getByRole('combobox', { name: 'Which place' }).last();
  await field.fill('scarce second');
  await page.getByRole('option', { name: 'Rack of scarce things, Second drawer' }).click();
  await form.getByText('Choose the place from the list').waitFor({ state: 'detached' });
  await form.getByRole('button', { name: 'Keep how often is counted' }).click();
  await eventually(async () =>
    expect((await scene.owner.get<CountSettings>('/api/count-settings')).body.terms).toContainEqual(
      expect.objectContaining({ placeId: drawer.id, placeKind: null }),
    ),
  );
  // read anew they stand in the order of the server
  const kept = () => form.getByRole('combobox', { name: 'Which place' }).all();
  await eventually(async () =>
    expect(await Promise.all((await kept()).map((each) => each.inputValue()))).toContain('Rack of scarce things, Second drawer'),
  );
});
