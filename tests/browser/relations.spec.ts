import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import type { z } from 'zod';
import { makeCode } from '../../libs/codes/src/label-code.js';
import type { BuildStandardList } from '../../libs/contracts/src/build-standards.js';
import type { PartPage } from '../../libs/contracts/src/catalogue.js';
import type { JobCard } from '../../libs/contracts/src/jobs.js';
import type { MayServe } from '../../libs/contracts/src/relations.js';
import type { ScanAnswer } from '../../libs/contracts/src/scanning.js';
import type { SearchAnswer } from '../../libs/contracts/src/stores.js';
import { addPerson, ownerPassPhrase } from '../support/bare-server.js';
import { unfoldActs } from './acts.js';
import { eventually, openScene, type Scene } from './scene.js';

jest.setTimeout(120_000);

let scene: Scene;
let page: Page;

beforeAll(async () => {
  scene = await openScene('relations');
  page = await scene.page();
});
afterAll(async () => {
  expect(scene.complaints).toEqual([]);
  await scene.stop();
});

async function partId(number: string): Promise<string> {
  const { hits } = (await scene.owner.get<z.infer<typeof SearchAnswer>>(`/api/search?q=${encodeURIComponent(number)}`)).body;
  return hits[0]?.id ?? '';
}
const mayServe = async (id: string) => (await scene.owner.get<MayServe>(`/api/parts/${id}/may-serve`)).body;
const section = (on = page) => on.getByRole('region', { name: 'What else will serve' });

describe('an old number', () => {
  it('leads to the current part, with the chain shown, from the search and from its own page', async () => {
    await page.goto('/stores?q=48%201817');
    const chain =
      '48-1817 of Brantock became 48-2017 of Brantock in 1934. 48-2017 of Brantock became 48-2217 of Brantock in 1938-06.';
    await page.getByText(chain).waitFor();
    await page.getByRole('link', { name: /Thrust bearing, worm, loose balls/ }).click();
    await page.getByRole('note').filter({ hasText: chain }).waitFor();
    await page.getByRole('link', { name: 'To 48-2217, Thrust bearing, worm, double ball' }).click();
    await page.getByRole('heading', { name: /^48-2217/ }).waitFor();
  });
});

describe('what else will serve', () => {
  it('stands with its evidence and its stock beside it, and the refused with the reason', async () => {
    await page.goto(`/stores/parts/${await partId('S11-218')}`);
    const row = section()
      .getByRole('row', { name: /205 of Corvane will serve for S11-218/ })
      .first();
    await row.getByText('trial fitted: One axle of our own, two years on the yard lorry').waitFor();
    await row.getByText('Stores, Rack 3, Bin 07').waitFor();
    await section().getByRole('button', { name: '1 part was looked at and refused' }).click();
    await section()
      .getByText(/C\/S 2552.*does not speak for its like/)
      .first()
      .waitFor();
  });

  it('is recorded and withdrawn with the keyboard alone, and both stay on the record', async () => {
    const wanted = await partId('4G-111');
    await page.goto(`/stores/parts/${wanted}`);
    await section().getByRole('button', { name: 'Record a relation' }).focus();
    await page.keyboard.press('Enter');
    await page.getByLabel('The other part').focus();
    await page.keyboard.type('B 2000');
    await page.getByRole('option', { name: /B 2000/ }).waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.type('with a sleeve in the case');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.type('bore 50.80 mm: the shaft was built up to it');
    await page.keyboard.press('Enter');
    const row = section()
      .getByRole('row', { name: /B 2000 of Hestrop will serve for 4G-111/ })
      .first();
    await row.getByText('with a sleeve in the case').waitFor();
    await row.getByText('measured: bore 50.80 mm: the shaft was built up to it').waitFor();
    expect((await mayServe(wanted)).candidates.at(-1)).toMatchObject({
      as: 'will serve for',
      conditions: ['with a sleeve in the case'],
    });

    await section()
      .getByRole('button', { name: /^On the record: 1 that stands/ })
      .focus();
    await page.keyboard.press('Enter');
    await section()
      .getByRole('button', { name: /^Withdraw.*B 2000/ })
      .focus();
    await page.keyboard.press('Enter');
    await page.getByLabel('Why it is withdrawn').waitFor();
    await page.keyboard.press('Enter');
    await page.getByText('Say why.').waitFor();
    await page.keyboard.type('the sleeve crept');
    await page.keyboard.press('Enter');
    await section()
      .getByRole('cell', { name: /withdrawn by .*: the sleeve crept/ })
      .waitFor();
    expect((await mayServe(wanted)).candidates).toHaveLength(1);
  });

  it('says why a relation is not taken, and keeps what was keyed', async () => {
    await page.goto(`/stores/parts/${await partId('48-2217')}`);
    await section().getByRole('button', { name: 'Record a relation' }).click();
    await page.getByLabel('How they stand').selectOption({ label: 'This one became another part, or a kit' });
    await page.getByLabel('The other part').fill('48-1817');
    await page.getByRole('option', { name: /48-1817/ }).click();
    await page.getByLabel('In words').fill('a note in pencil');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText(/48-2217 would come to supersede itself: 48-2217, then 48-1817, then 48-2017, then 48-2217/).waitFor();
    expect(await page.getByLabel('In words').inputValue()).toBe('a note in pencil');
  });

  it('is shown to who works at the bench, who neither records nor withdraws', async () => {
    await addPerson(scene.server, scene.owner, 'bench', 'wilfp', 'Wilf Peskett');
    const context = await scene.context();
    const signIn = { signInName: 'wilfp', passPhrase: `${ownerPassPhrase} of wilfp` };
    expect((await context.request.post('/api/sign-in', { data: signIn })).status()).toBe(200);
    const theirs = await context.newPage();
    await theirs.goto(`/stores/parts/${await partId('S11-218')}`);
    await section(theirs)
      .getByRole('row', { name: /205 of Corvane/ })
      .first()
      .waitFor();
    await section(theirs)
      .getByRole('button', { name: /^On the record/ })
      .click();
    expect(
      await section(theirs)
        .getByRole('button', { name: /Withdraw|Record a relation/ })
        .count(),
    ).toBe(0);
    await theirs.goto('/cross-reference/tables');
    await theirs.getByRole('table', { name: 'Makers’ suffixes' }).waitFor();
    expect(await theirs.getByRole('button', { name: /^(Key a|Change|Strike out)/ }).count()).toBe(0);
    await theirs.goto('/stores?q=QXJ-7788-ZZ');
    await theirs.getByRole('heading', { name: /^Nothing by/ }).waitFor();
    await theirs.goto('/cross-reference/number?number=QXJ-7788-ZZ');
    await theirs.getByRole('heading', { name: /^Nothing like/ }).waitFor();
    expect(await theirs.getByRole('link', { name: 'Write it down as a new part' }).count()).toBe(0);
    const lots = (await scene.owner.get<PartPage>(`/api/parts/${await partId('48-2230')}`)).body.lots;
    await theirs.goto(`/stores/things/${lots[0]?.id}`);
    await theirs.getByRole('link', { name: 'Label, again' }).waitFor();
    await unfoldActs(theirs);
    expect(await theirs.getByRole('button', { name: /Inspect it|how preserved|Hold it back/ }).count()).toBe(0);
    await context.close();
  });
});

describe('what is keyed while somebody else keeps theirs', () => {
  it('of a part stays, is not sent over theirs unsaid, and is kept when it is sent again', async () => {
    const id = await partId('S11-218');
    const part = async () => (await scene.owner.get<PartPage>(`/api/parts/${id}`)).body;
    const { version, name, nicknames, material, polymer } = await part();
    await page.goto(`/stores/parts/${id}`);
    await page.getByRole('button', { name: 'Change what it is' }).click();
    await page.getByLabel('Called in the shop').fill('the tail bearing');
    const theirs = { name, description: 'theirs', nicknames, material, polymer };
    await scene.owner.patch(`/api/parts/${id}`, theirs, { ifMatch: version });
    await page.getByText('theirs', { exact: true }).first().waitFor();
    expect(await page.getByLabel('Called in the shop').inputValue()).toBe('the tail bearing');
    await page.getByRole('button', { name: 'Keep it', exact: true }).click();
    await page.getByText('Changed meanwhile').waitFor();
    expect((await part()).description).toBe('theirs');
    await page.getByRole('button', { name: 'Keep it', exact: true }).click();
    await page.getByRole('button', { name: 'Change what it is' }).waitFor();
    expect((await part()).nicknames).toBe('the tail bearing');
  });

  it('of a build standard stays ticked after the refusal that says so', async () => {
    await page.goto('/settings');
    const standards = async () =>
      (await scene.owner.get<z.infer<typeof BuildStandardList>>('/api/build-standards')).body.standards;
    const { id, name, version, ways, makes, sources, gradeLeast } = (await standards())[0]!;
    await page.getByRole('button', { name: new RegExp(`^${name}: `) }).click();
    const form = page.getByRole('form', { name: `What a job accepts that is built ${name}` });
    const tick = form.getByRole('checkbox').first();
    const before = await tick.isChecked();
    await form.locator('label').first().click();
    const theirs = { ways, makes, sources, gradeLeast };
    await scene.owner.patch(`/api/build-standards/${id}`, theirs, { ifMatch: version });
    await form.getByRole('button', { name: 'Keep it', exact: true }).click();
    await form.getByText('What you ticked is kept.').waitFor();
    await form.getByRole('button', { name: 'Keep it', exact: true }).click();
    await form.getByText('What you ticked is kept.').waitFor({ state: 'detached' });
    await eventually(async () => expect((await standards())[0]!.version).toBe(version + 2));
    expect(await tick.isChecked()).toBe(!before);
  });

  it('of a job’s card stays, and takes a second word to go over theirs', async () => {
    const { id } = (await scene.owner.get<ScanAnswer>(`/api/scan/${makeCode('J', 103)}`)).body;
    const card = async () => (await scene.owner.get<JobCard>(`/api/jobs/${id}`)).body;
    const { version, title, buildStandard, priority, state } = await card();
    await page.goto(`/jobs/${id}`);
    await page.getByRole('button', { name: 'Change stage or priority' }).click();
    const form = page.getByRole('form', { name: 'Change the job' });
    await form.getByLabel('What is wanted').fill('mine');
    await scene.owner.patch(
      `/api/jobs/${id}`,
      { title: 'theirs', wanted: '', buildStandard, priority, state },
      { ifMatch: version },
    );
    await page.getByText('theirs').first().waitFor();
    await form.getByRole('button', { name: 'Change it' }).click();
    await form.getByText('Changed meanwhile').waitFor();
    expect(await card()).toMatchObject({ title: 'theirs', wanted: '' });
    await form.getByRole('button', { name: 'Change it' }).click();
    await form.waitFor({ state: 'detached' });
    expect(await card()).toMatchObject({ title, wanted: 'mine' });
  });

  it('that it is another number holds for that number alone', async () => {
    await page.goto(`/stores/parts/${await partId('S11-218')}`);
    await page.getByRole('button', { name: 'Add a number' }).click();
    await page.getByLabel('Whose number').fill('Brantock');
    await page.getByLabel('Number', { exact: true }).fill('48 2217');
    await page.getByRole('button', { name: 'Add the number' }).click();
    const another = page.getByRole('checkbox', { name: 'it is another number all the same' });
    await page.getByText('it is another number all the same', { exact: true }).click();
    expect(await another.isChecked()).toBe(true);
    await page.getByLabel('Number', { exact: true }).fill('48 2218');
    expect(await another.isChecked()).toBe(false);
  });
});
