import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { StripDownOfUnit } from '../../libs/contracts/src/cores.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { SearchHit } from '../../libs/contracts/src/stores.js';
import { addPerson, ownerPassPhrase } from '../support/bare-server.js';
import { phonePhotograph } from '../support/pictures.js';
import { type Made, Stock } from '../support/stock.js';
import { pressFolded } from './acts.js';
import { pressByKey } from './keying.js';
import { eventually, openScene, type Scene, scan } from './scene.js';

jest.setTimeout(180_000);

let scene: Scene;
let stock: Stock;
let page: Page;
/** a core that nobody has opened, and the job that it is to be rebuilt on */
let core: Made;
let jobId: string;
let bin: Made;

type Hit = (typeof SearchHit)['_output'];

beforeAll(async () => {
  scene = await openScene('stripping');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
  const { hits } = (await scene.owner.get<{ hits: Hit[] }>('/api/search?q=WD75544')).body;
  const hit = hits.find((each) => each.kind === 'unit');
  if (!hit?.code) throw new Error('The example workshop has lost its core WD7 5544.');
  core = { id: hit.id, code: hit.code };
  jobId = newId();
  const job = { id: jobId, unitCode: core.code, buildStandard: 'serviceable' };
  expect((await scene.owner.post('/api/jobs', job)).status).toBe(200);
  bin = await stock.place();
});
afterAll(async () => {
  expect(await verifyBooks(scene.server.database)).toEqual([]);
  await stock.close();
  await scene.stop();
});

const row = (name: RegExp, on = page) => on.getByRole('button', { name, expanded: false });
const said = (on = page) => on.getByRole('status');
const press = (name: string, on = page) => on.getByRole('button', { name, exact: true }).click();
const stripDown = async () => (await scene.owner.get<StripDownOfUnit>(`/api/units/${core.id}/strip-down`)).body.stripDown!;
const standing = async (position: number) =>
  (await stripDown()).components.find((each) => each.position === position)!.findings.filter((finding) => !finding.superseded);

const fateOfKey: Readonly<Record<string, RegExp>> = { '1': /^re-use here/, '4': /^to stores/, '7': /^scrap/ };

/** A number outside of every field; whether it is one of a scan shows only when no more keys come. */
async function chooseByKey(key: string, on = page): Promise<void> {
  await on.keyboard.press(key);
  await on.getByRole('button', { name: fateOfKey[key]!, pressed: true }).waitFor();
}

/** Opens a component, says what was seen, and its fate by the number of its key. */
async function record(name: RegExp, word: string, fate: string, on = page): Promise<void> {
  await row(name, on).click();
  await press(word, on);
  await chooseByKey(fate, on);
}

async function recorded(on = page): Promise<void> {
  await press('Record it', on);
  await on.getByRole('button', { name: 'Record it', exact: true }).waitFor({ state: 'detached' });
}

describe('a unit opened on the bench', () => {
  it('is begun from its page, and shows what its type expects with the caution', async () => {
    await page.goto(`/stores/things/${core.id}`);
    await page.getByRole('link', { name: 'Strip it down' }).click();
    await press('Begin to strip it');
    await page.getByRole('list', { name: 'Components' }).waitFor();
    expect(await page.getByRole('listitem').filter({ hasText: 'must be looked at' }).count()).toBe(10);
    await page.getByRole('note').filter({ hasText: 'can hold asbestos' }).waitFor();
  });

  it('gives two parts to stores, at a place that was scanned once, with their labels', async () => {
    await scan(page, bin.code);
    await said().filter({ hasText: 'What is kept goes to' }).waitFor();
    await record(/Worm wheel/, 'good', '4');
    await page.getByLabel('Set number stamped on it').fill('551');
    await recorded();
    await said().filter({ hasText: 'Kept together as “worm set”, number 551' }).waitFor();
    await said().filter({ hasText: 'Its share of the unit’s cost is not known.' }).waitFor();
    await record(/Cross/, 'worn', '4');
    await recorded();
    await press('Print the labels that are not printed yet');
    const opened = page.getByRole('link', { name: 'Open the labels' });
    await opened.waitFor();
    await page.getByText('2 labels on').waitFor();
    const document = await page.request.get((await opened.getAttribute('href'))!);
    expect(document.headers()['content-type']).toBe('application/pdf');
    expect((await standing(4))[0]).toMatchObject({ disposition: 'to stores', thing: { code: expect.stringMatching(/^L/) } });
  });

  it('stops at a set number that does not match, until it is read again', async () => {
    await record(/^3\s*Worm/, 'good', '4');
    await page.getByLabel('Set number stamped on it').fill('515');
    await press('Record it');
    await page.getByRole('alert').filter({ hasText: 'Worm wheel says 551, Worm says 515' }).waitFor();
    expect(await standing(3)).toEqual([]);
    await page.getByLabel('Set number stamped on it').fill('551');
    await recorded();
    expect((await stripDown()).keptSets).toMatchObject([{ number: '551', members: [{ bound: true }, { bound: true }] }]);
  });

  it('scraps one, and re-uses one for its job, whose card shows the cover', async () => {
    await record(/Thrust bearing/, 'brinelled', '7');
    // the photograph is taken before the finding is recorded, and waits for it
    const buffer = await phonePhotograph(640, 480);
    await page.getByLabel('Photograph', { exact: true }).setInputFiles({ name: 'track.jpg', mimeType: 'image/jpeg', buffer });
    await page.getByRole('img', { name: 'Photograph that is on its way' }).waitFor();
    await recorded();
    await page.getByRole('img', { name: /Thrust bearing/ }).waitFor();
    await record(/Worm carrier/, 'good', '1');
    await recorded();
    await said().filter({ hasText: 'of the job says so' }).waitFor();
    const card = (await scene.owner.get<JobCard>(`/api/jobs/${jobId}`)).body;
    const lineOf = (number: string) => card.coverage.lines.find((line) => line.part.number === number)!;
    expect(lineOf('48-2202').shares[0]).toMatchObject({ state: 're-used', words: 'good' });
    expect(lineOf('48-2217').shares.map((share) => share.state)).not.toContain('not yet looked at');
    expect((await standing(5))[0]).toMatchObject({
      where: 'scrap',
      finding: 'brinelled',
      pictures: [{ shows: 'finding', struckOut: null }],
    });
  });

  it('puts a slip of the finger right, and the first stays on the record', async () => {
    await press('Put it right: Cross, to stores');
    await chooseByKey('1');
    await recorded();
    expect((await standing(9))[0]).toMatchObject({ disposition: 're-use here', thing: { code: expect.stringMatching(/^C/) } });
    expect((await stripDown()).components.find((each) => each.position === 9)!.findings).toHaveLength(2);
  });

  it('is gone on with by a second person, who finishes it by keys and one act for the rest', async () => {
    await addPerson(scene.server, scene.owner, 'bench', 'wilfp', 'Wilf Peskett the younger');
    const wilf = await (await scene.context()).newPage();
    await wilf.goto('/sign-in');
    await wilf.getByLabel('Sign-in name').fill('wilfp');
    await wilf.getByLabel('Pass phrase').fill(`${ownerPassPhrase} of wilfp`);
    await press('Sign in', wilf);
    await wilf.getByRole('navigation', { name: 'Places' }).waitFor();
    await wilf.goto(`/bench/strip-down/${core.id}`);
    await press('Finish the strip-down', wilf);
    await wilf.getByRole('alert').filter({ hasText: 'Somebody must look at these' }).waitFor();
    for (const name of [/Roller bearings, worm/, /Cage halves/, /Taper bearings/, /Half shaft, near/, /Half shaft, off/]) {
      await pressByKey(wilf, row(name, wilf));
      await pressByKey(wilf, wilf.getByRole('button', { name: 'good', exact: true }));
      await chooseByKey('1', wilf);
      await pressByKey(wilf, wilf.getByRole('button', { name: 'Record it', exact: true }));
      await wilf.getByRole('button', { name: 'Record it', exact: true }).waitFor({ state: 'detached' });
    }
    await press('The rest: its usual fate', wilf);
    await press('Give the rest its usual fate', wilf);
    await wilf.getByText('never looked at, so they count in no yield').waitFor();
    await press('Finish the strip-down', wilf);
    await wilf.getByText('Finished: its record stays as it is.').waitFor();
    const done = await stripDown();
    expect(done.people).toEqual(['Mary Fenwright', 'Wilf Peskett the younger']);
    expect(done.components.every((component) => component.undecided === '0')).toBe(true);
    // the first one sees it without asking
    await page.getByText('Finished: its record stays as it is.').waitFor();
  });

  it('leaves its record on the page of the unit', async () => {
    await page.getByRole('link', { name: 'To the unit' }).click();
    const record = page.getByRole('region', { name: 'Strip-down' });
    await record.getByText('Wilf Peskett the younger').first().waitFor();
    await record.getByText(/finished by/).waitFor();
  });
});

describe('a replaced casing', () => {
  it('links the two units, each with its own stamps', async () => {
    const other = await stock.unit();
    await page.goto(`/stores/things/${core.id}`);
    await pressFolded(page, 'Another casing for its insides');
    await scan(page, other.code);
    await eventually(async () => expect(await page.getByLabel(/^The unit whose casing/).inputValue()).toBe(other.code));
    await page.getByLabel('Why the casing is replaced').fill('cracked at the spring seat');
    await press('Link the two units');
    await page.getByRole('region', { name: 'Another casing' }).getByText('its insides went into').waitFor();
    await page.goto(`/stores/things/${other.id}`);
    await page
      .getByRole('region', { name: 'Another casing' })
      .getByText(/has the insides of.*WD7 5544/)
      .waitFor();
  });
});

describe('a kept set', () => {
  it('refuses to be split between two jobs, is found by its number, and is broken with a name and a reason', async () => {
    const [worm, wheel] = [(await standing(3))[0]!.thing!, (await standing(4))[0]!.thing!];
    const [one, other] = [await stock.job([{ partId: await stock.part() }]), await stock.job([{ partId: await stock.part() }])];
    const inPlaceOf = { lineId: one.lineIds[0], why: 'the set of 5544', evidence: 'its number' };
    expect((await scene.owner.post('/api/fits', { code: wheel.code, jobId: one.id, inPlaceOf })).status).toBe(200);
    await page.goto('/bench');
    await page.getByRole('heading', { name: 'Last ten acts' }).waitFor();
    await page.keyboard.press('F8');
    await scan(page, other.code);
    await page.getByText('This job', { exact: true }).waitFor();
    await scan(page, worm.code);
    await page.getByRole('alert').filter({ hasText: 'a set goes to one job only' }).waitFor();

    await page.goto('/stores?q=551');
    await page.getByText('worm set, set 551: kept together').first().waitFor();
    await page.goto(`/stores/things/${worm.id}`);
    await press('Break the set');
    await press('Break it');
    await page.getByText('Say who has decided it.').waitFor();
    await page.getByLabel('On whose word').fill('Mary Fenwright');
    await page.getByLabel('Why it is broken').fill('the wheel is fitted with a new worm, lapped');
    await press('Break it');
    await page.getByRole('heading', { name: 'Odd: worm set, set 551' }).waitFor();
    await page.goto('/stores?q=551');
    await page.getByText('set 551: odd. the wheel is fitted').first().waitFor();
  });

  it('is bound by hand from the page of a part', async () => {
    const [cup, cone] = [await stock.lot(await stock.part({ name: 'Cup' })), await stock.lot(await stock.part({ name: 'Cone' }))];
    await page.goto(`/stores/things/${cup.id}`);
    await pressFolded(page, 'Keep it together with another');
    await page.getByLabel('What they are together').fill('cup and cone');
    await scan(page, cone.code);
    await eventually(async () => expect(await page.getByLabel(/^The other one/).inputValue()).toBe(cone.code));
    await press('Bind them as one set');
    await page.getByRole('heading', { name: 'Kept together: cup and cone' }).waitFor();
    expect(scene.complaints).toEqual([]);
  });
});

describe('the words of the workshop', () => {
  it('are added in Settings and offered on the bench', async () => {
    await page.goto('/settings');
    await press('Add a word');
    await page.getByLabel('Word', { exact: true }).fill('glazed');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /18 words: .*glazed/ }).waitFor();
  });
});
