import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { Person } from '../../libs/contracts/src/people.js';
import type { PickList } from '../../libs/contracts/src/pick-list.js';
import { tokenIn } from '../support/bare-server.js';
import { type Made, Stock } from '../support/stock.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(120_000);

type People = { people: Person[] };
type Job = Awaited<ReturnType<Stock['job']>>;

let scene: Scene;
let stock: Stock;
let jobs: [Job, Job];
let lots: { washers: Made; seals: Made; cord: Made };

/** Three bins; one bag that both jobs want, one lot that lies in two of them, and a part that is lacking. */
beforeAll(async () => {
  scene = await openScene('picking');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  const rack = await bin('Rack 40, by the far door', null);
  const [two, ten, eleven] = [await bin('Bin 2', rack), await bin('Bin 10', rack), await bin('Bin 11', rack)];
  const [washer, seal, cord, wheel] = [
    await stock.part({ name: 'Thrust washer' }),
    await stock.part({ name: 'Oil seal, hub' }),
    await stock.part({ name: 'Graphited cord', unit: 'm' }),
    await stock.part({ name: 'Worm wheel, cast' }),
  ];
  lots = {
    washers: await stock.lot(washer, { quantity: '20', placeId: ten }),
    seals: await stock.lot(seal, { quantity: '2', placeId: two }),
    cord: await stock.lot(cord, { quantity: '0.5', placeId: eleven }),
  };
  await stock.bring(lots.cord.id, '0.25', two);
  jobs = [
    await stock.job([{ partId: washer, quantity: '4' }, { partId: seal, quantity: '2' }, { partId: wheel }]),
    await stock.job([
      { partId: washer, quantity: '3' },
      { partId: cord, quantity: '0.75' },
    ]),
  ];
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  expect(scene.complaints).toEqual([]);
  await stock.close();
  await scene.stop();
});

async function bin(name: string, parentId: string | null): Promise<string> {
  const { id } = await stock.place();
  await stock.query('UPDATE places SET name = $2, parent_id = $3 WHERE holder_id = $1', [id, name, parentId]);
  return id;
}

const path = () => `/jobs/pick-list?jobs=${jobs.map(({ id }) => id).join(',')}`;
const spoken = (code: string) => `${code.slice(0, 1)} ${code.slice(1, -2)} ${code.slice(-2)}`;
const stop = (page: Page, name: string) => page.getByRole('article', { name: `Rack 40, by the far door, ${name}`, exact: true });
/** What of a lot is taken at a place for a job. */
const row = (page: Page, place: string, lot: Made, job: Made, at = stop(page, place)) =>
  at
    .getByRole('listitem')
    .filter({ hasText: spoken(lot.code) })
    .filter({ hasText: spoken(job.code) });
const isStruck = (page: Page, place: string, lot: Made, job: Made) =>
  row(page, place, lot, job).getByText('taken', { exact: true }).waitFor();

/** Scans the card of a job, and waits until scans go onto it. */
async function onto(page: Page, job: Job): Promise<void> {
  await scan(page, job.code);
  const answer = page.getByRole('region', { name: 'Scan' }).getByRole('status').filter({ hasText: 'This job' });
  await answer.filter({ hasText: spoken(job.code) }).waitFor();
}

/** Runs in the page: how far it can be pushed sideways, in CSS pixels. */
const sidewaysScroll = () => document.documentElement.scrollWidth - document.documentElement.clientWidth;

it('is one column on a phone, every label within a thumb’s reach', async () => {
  const phone = await scene.page({ viewport: { width: 360, height: 740 } });
  await phone.goto(path());
  await row(phone, 'Bin 10', lots.washers, jobs[0]).waitFor();
  expect(await phone.evaluate(sidewaysScroll)).toBeLessThanOrEqual(0);
  const list = phone.getByRole('list', { name: 'Places, in walking order' });
  const links = await list.getByRole('link').all();
  expect(links.length).toBeGreaterThan(8);
  // the small tag keeps a target of its own around it
  const small: string[] = [];
  for (const link of links) {
    const box = (await link.boundingBox())!;
    const isTag = (await link.getAttribute('href'))!.startsWith('/jobs/');
    if (box.height < (isTag ? 35.5 : 47.5)) small.push(`${await link.textContent()} ${box.height}`);
  }
  expect(small).toEqual([]);
});

it('prints on A4 with a box for each row, the places large, and nothing cut where a page ends', async () => {
  const page = await scene.page();
  await page.goto(path());
  await row(page, 'Bin 10', lots.washers, jobs[0]).waitFor();
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 703, height: 1000 });
  expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0);
  const { stops } = (await scene.owner.get<PickList>(`/api/pick-list?jobs=${jobs.map(({ id }) => id).join(',')}`)).body;
  const printed = await page.getByRole('list', { name: 'Places, in walking order' }).evaluate((list) => {
    const rows = [...list.querySelectorAll('article li')].map((each) => ({
      box: (each.firstElementChild as HTMLElement).getBoundingClientRect(),
      whole: getComputedStyle(each).breakInside,
      columns: [...each.children].map((child) => child.getBoundingClientRect()),
    }));
    const names = [...list.querySelectorAll('h2')].map((name) => Number.parseFloat(getComputedStyle(name).fontSize));
    const isApart = (columns: DOMRect[]) => columns.every(({ right }, index) => right <= (columns[index + 1]?.left ?? right));
    return {
      rows: rows.map(({ box, whole, columns }) => ({ width: box.width, height: box.height, whole, isApart: isApart(columns) })),
      narrowest: Math.min(...rows.map(({ columns }) => columns[3]?.width ?? 0)),
      names,
    };
  });
  expect(printed.rows).toHaveLength(stops.flatMap(({ rows }) => rows).length);
  for (const each of printed.rows) expect(each).toEqual({ width: 20, height: 20, whole: 'avoid', isApart: true });
  // the part has room for its name beside a tray with a long one
  expect(printed.narrowest).toBeGreaterThan(200);
  expect(Math.min(...printed.names)).toBeGreaterThanOrEqual(32);
  expect(await page.evaluate(sidewaysScroll)).toBeLessThanOrEqual(0);
  for (const { code } of jobs) await page.getByRole('list', { name: 'Fetched for' }).getByText(spoken(code)).waitFor();
});

it('is chosen among the open jobs, and followed by scans until nothing is left', async () => {
  const page = await scene.page();
  await page.goto('/jobs');
  await page.getByRole('link', { name: 'Pick list' }).click();
  await page.getByText('No job is chosen yet').waitFor();
  for (const { code } of jobs)
    await page
      .locator('label')
      .filter({ hasText: spoken(code) })
      .click();
  await page.waitForURL(new RegExp(`jobs=.*${jobs[1].id}`));
  await row(page, 'Bin 10', lots.washers, jobs[0]).waitFor();
  const walk = page.getByRole('list', { name: 'Places, in walking order' }).getByRole('article');
  expect(await walk.getByRole('heading').allTextContents()).toEqual(['Bin 2', 'Bin 10', 'Bin 11']);
  await page.getByText('5 labels to scan, in 3 places.').waitFor();
  await page.getByText('None of 7 in the tray; 6 to fetch; 1 lacking.').waitFor();
  await row(page, 'Bin 11', lots.cord, jobs[1]).getByText('key 0.5 after the scan', { exact: false }).waitFor();

  await page.keyboard.press('F4');
  await page.getByRole('button', { name: 'Mode: pick' }).waitFor();
  await onto(page, jobs[0]);
  await scan(page, lots.seals.code);
  await isStruck(page, 'Bin 2', lots.seals, jobs[0]);
  await scan(page, lots.washers.code);
  await isStruck(page, 'Bin 10', lots.washers, jobs[0]);
  expect(await row(page, 'Bin 10', lots.washers, jobs[1]).getByText('taken', { exact: true }).count()).toBe(0);
  await page.getByText('6 of 7 in the tray; 1 lacking.').waitFor();
  await page
    .locator('b')
    .filter({ hasText: /^partly kitted$/ })
    .waitFor();

  await onto(page, jobs[1]);
  await scan(page, lots.washers.code);
  await isStruck(page, 'Bin 10', lots.washers, jobs[1]);
  // without a number a scan takes what the line needs, from both of its places
  await scan(page, lots.cord.code);
  for (const place of ['Bin 2', 'Bin 11']) await isStruck(page, place, lots.cord, jobs[1]);
  await page.getByText('Nothing is left to fetch').waitFor();
  await page
    .locator('b')
    .filter({ hasText: /^kitted$/ })
    .waitFor();
  expect(new URL(page.url()).pathname).toBe('/jobs/pick-list');
  await page.reload();
  await page.getByText('Nothing is to be fetched').waitFor();
});

it('is reached from a job card, and from the tray, which says what is missing from it', async () => {
  const page = await scene.page();
  await page.goto(`/jobs/${jobs[0].id}`);
  await page.getByRole('region', { name: 'Lines' }).getByRole('link', { name: 'Pick list' }).click();
  await eventually(async () => expect(new URL(page.url()).search).toBe(`?jobs=${jobs[0].id}`));
  await page.getByText('Nothing is to be fetched').waitFor();
  await page.goto(`/stores/places/${jobs[0].trayId}`);
  const missing = page.getByRole('region', { name: 'What is missing from it' });
  await missing.getByText('6 of 7 in the tray; 1 lacking.').waitFor();
  await missing.getByText('Worm wheel, cast').waitFor();
  await missing.getByRole('link', { name: 'Pick list' }).click();
  await eventually(async () => expect(new URL(page.url()).search).toContain(jobs[0].id));
});

describe('another part in place of what is short', () => {
  let job: Job;
  let bag: Made;
  beforeAll(async () => {
    const [plate, other, pin] = [
      await stock.part({ name: 'Lock plate' }),
      await stock.part({ name: 'Lock plate, later', number: '51-0099' }),
      await stock.part({ name: 'Dowel' }),
    ];
    const rack = await bin('Rack 41', null);
    bag = await stock.lot(other, { placeId: await bin('Bin 1', rack) });
    await stock.lot(pin, { placeId: await bin('Bin 3', rack) });
    const relation = {
      kind: 'will serve for',
      toPartIds: [plate],
      conditions: 'with the longer screws',
      evidence: { kind: 'measured', words: 'the same holes' },
    };
    expect((await scene.owner.post(`/api/parts/${other}/relations`, relation)).status).toBe(200);
    job = await stock.job([{ partId: plate }, { partId: pin }]);
  });
  const open = async (page: Page) => {
    await page.goto(`/jobs/pick-list?jobs=${job.id}`);
    await page.getByText('Short: Lock plate').waitFor();
  };
  const stopOfBag = (page: Page) => page.getByRole('article', { name: 'Rack 41, Bin 1', exact: true });
  const accept = (page: Page) => stopOfBag(page).getByRole('button', { name: 'Accept 51-0099 for line 1' });

  it('is accepted by those alone who keep the books; others read who they are', async () => {
    const { people } = (await scene.owner.get<People>('/api/people')).body;
    const fitter = people.find(({ role, active }) => role === 'bench' && active)!;
    const link = await scene.owner.post<{ path: string }>(`/api/people/${fitter.id}/pass-phrase-link`, {});
    const passPhrase = 'nine studs round the carrier';
    await scene.server.visitor().post('/api/pass-phrase', { token: tokenIn(link.body.path), passPhrase }, { key: null });
    const page = await (await scene.context()).newPage();
    await page.goto('/');
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await page.keyboard.type(fitter.signInName);
    await page.keyboard.press('Tab');
    await page.keyboard.type(passPhrase);
    await page.keyboard.press('Enter');
    await page.getByRole('navigation', { name: 'Places' }).waitFor();
    await open(page);
    await stopOfBag(page)
      .getByText(/It may be accepted by .*Mary Fenwright/)
      .waitFor();
    expect(await accept(page).count()).toBe(0);
    await page.context().close();
  });

  it('says without the network that it needs it, and keeps what was keyed until it is back', async () => {
    const phone = await scene.page({ viewport: { width: 360, height: 780 }, hasTouch: true });
    await open(phone);
    await accept(phone).click();
    await phone.getByLabel('Marking of the old one').fill('51?');
    await phone.context().setOffline(true);
    await stopOfBag(phone).getByText('Accepting it needs the network.').waitFor();
    expect(await phone.getByLabel('Marking of the old one').inputValue()).toBe('51?');
    await phone.context().setOffline(false);
    await stopOfBag(phone).getByText('Accepting it needs the network.').waitFor({ state: 'detached', timeout: 30_000 });
    await stopOfBag(phone).getByRole('button', { name: 'Leave it' }).click();
    await accept(phone).waitFor();
    await phone.context().close();
  });

  it('is accepted at the stop with its evidence and its caution, stands in the walk at once, and is picked', async () => {
    const page = await scene.page();
    await open(page);
    const walk = page.getByRole('list', { name: 'Places, in walking order' }).getByRole('article');
    const order = () => walk.getByRole('heading', { level: 2, name: /^Bin / }).allTextContents();
    expect(await order()).toEqual(['Bin 3', 'Bin 1']);
    await accept(page).click();
    await stopOfBag(page).getByText('with the longer screws').waitFor();
    await stopOfBag(page)
      .getByText(/decided by the maker’s manual, local codes and qualified people/)
      .first()
      .waitFor();
    await stopOfBag(page).getByRole('button', { name: 'Accept it, in my name' }).click();
    await stopOfBag(page).getByText('Say on what this rests.').waitFor();
    await stopOfBag(page).getByRole('button', { name: 'Choose 51-0099' }).click();
    await page.getByLabel('Where it goes').fill('carrier, near side');
    // as on the screen of the line: what is said to be measured is keyed
    await stopOfBag(page).getByRole('button', { name: 'Accept it, in my name' }).click();
    await stopOfBag(page).getByText('Key what was measured of the old one', { exact: false }).waitFor();
    await page.getByLabel('Outside').fill('38');
    await stopOfBag(page).getByRole('button', { name: 'Accept it, in my name' }).click();
    await stopOfBag(page).getByText('Accepted: 51-0099 is to be taken here for line 1.').waitFor();
    expect(await order()).toEqual(['Bin 1', 'Bin 3']);
    expect(await stopOfBag(page).evaluate((stop) => stop === document.activeElement)).toBe(true);
    const { coverage } = (await scene.owner.get<JobCard>(`/api/jobs/${job.id}`)).body;
    expect(coverage.lines[0]?.substitutes).toMatchObject([
      {
        part: { number: '51-0099' },
        evidence: { words: 'the same holes' },
        position: 'carrier, near side',
        acceptedBy: 'Mary Fenwright',
      },
    ]);
    await page.keyboard.press('F4');
    await page.getByRole('button', { name: 'Mode: pick' }).waitFor();
    await onto(page, job);
    await scan(page, bag.code);
    await row(page, '', bag, job, stopOfBag(page)).getByText('taken', { exact: true }).waitFor();
  });
});

it('says in words that a closed job has no list', async () => {
  const closed = await stock.job([{ partId: await stock.part() }], { state: 'released' });
  const page = await scene.page();
  await page.goto(`/jobs/pick-list?jobs=${closed.id}`);
  await page.getByText('Nothing is fetched for a closed job', { exact: false }).waitFor();
});
