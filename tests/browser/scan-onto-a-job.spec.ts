import { jest } from '@jest/globals';
import type { Page } from 'playwright-core';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import { makeCode } from '../../libs/codes/src/label-code.js';
import { type CommandCard, commandCards } from '../../libs/contracts/src/scanning.js';
import { type Made, Stock } from '../support/stock.js';
import { eventually, openScene, type Scene, scan, typeAt } from './scene.js';

jest.setTimeout(120_000);

type Job = Awaited<ReturnType<Stock['job']>>;

let scene: Scene;
let stock: Stock;
let page: Page;

beforeAll(async () => {
  scene = await openScene('scan');
  stock = await Stock.open(scene.server.testDatabase.ownerUrl);
  page = await scene.page();
});
afterAll(async () => {
  await stock.close();
  await scene.stop();
});

const card = (command: CommandCard): string => makeCode('K', commandCards.indexOf(command) + 1);
const plate = (mode: string, on = page) => on.getByRole('button', { name: `Mode: ${mode}` });
const lastScan = (on = page) => on.getByRole('region', { name: 'The last scan' });

async function count(text: string, values: unknown[] = []): Promise<number> {
  return (await stock.query<{ n: number }>(`SELECT count(*)::int AS n ${text}`, values))[0]?.n ?? -1;
}
const movements = () => count('FROM movements');
const fittingsOn = (job: Made) => count('FROM fittings JOIN job_lines ON job_lines.id = job_line_id WHERE job_id = $1', [job.id]);

async function held(thing: Made): Promise<string> {
  const [row] = await stock.query<{ held: string }>('SELECT trim_scale(held)::text AS held FROM things WHERE id = $1', [
    thing.id,
  ]);
  return row?.held ?? '';
}

/** The bench in the mode fit, on this job. */
async function fitOnto(job: Made): Promise<void> {
  await page.goto('/bench');
  await plate('look').or(plate('fit')).or(plate('pick')).waitFor();
  await page.keyboard.press('F8');
  await plate('fit').waitFor();
  await scan(page, job.code);
  await lastScan().getByText('This job', { exact: true }).waitFor();
}

/** Waits until the last scan says all of this. */
async function says(...words: string[]): Promise<void> {
  for (const each of words) await lastScan().getByText(each).first().waitFor();
}

describe('the job card and the modes', () => {
  let job: Job;
  beforeAll(async () => {
    job = await stock.job([{ partId: await stock.part() }]);
  });

  it('opens the card of a job that is scanned in look', async () => {
    await page.goto('/stores');
    await plate('look').waitFor();
    await scan(page, job.code);
    await page.waitForURL(`**/jobs/${job.id}`);
  });

  it('changes the mode by key and by command card', async () => {
    await page.keyboard.press('F8');
    await plate('fit').waitFor();
    await scan(page, card('pick'));
    await plate('pick').waitFor();
    await scan(page, card('look'));
    await plate('look').waitFor();
    await scan(page, card('fit'));
    await plate('fit').waitFor();
  });

  it('falls back to look after three idle minutes, and a scan then only looks', async () => {
    const idle = await scene.page();
    await idle.clock.install();
    await idle.goto('/bench');
    await plate('look', idle).waitFor();
    await idle.keyboard.press('F8');
    await plate('fit', idle).waitFor();
    await idle.clock.fastForward('02:50');
    await plate('fit', idle).waitFor();
    await idle.clock.fastForward('00:20');
    await plate('look', idle).waitFor();
    await lastScan(idle).getByText('Nothing was scanned for three minutes').waitFor();
    const before = await movements();
    const lot = await stock.lot(await stock.part());
    await scan(idle, lot.code);
    await idle.waitForURL(`**/stores/things/${lot.id}`);
    expect(await movements()).toBe(before + 1);
    await idle.context().close();
  });
});

describe('thirty scans, the network cut half way', () => {
  it('arrive all of them, once', async () => {
    const lines: { partId: string; quantity: string }[] = [];
    const lots: Made[] = [];
    for (let thou = 1; thou <= 30; thou += 1) {
      const partId = await stock.part({ name: `Shim, ${thou} thou` });
      lines.push({ partId, quantity: '2' });
      lots.push(await stock.lot(partId, { quantity: '3' }));
    }
    const job = await stock.job(lines);
    await fitOnto(job);

    // ten with the focus in a field of another screen, which keeps what a person had keyed into it
    await page.getByRole('link', { name: 'Stores' }).click();
    const search = page
      .getByRole('searchbox')
      .or(page.getByLabel(/^Search/))
      .first();
    await search.fill('worm');
    for (const lot of lots.slice(0, 10)) await scan(page, lot.code);
    expect(await search.inputValue()).toBe('worm');
    // five with the focus in no field
    await search.blur();
    for (const lot of lots.slice(10, 14)) await scan(page, lot.code);
    await eventually(async () => expect(await fittingsOn(job)).toBe(14));

    // the server has the fifteenth; its answer is lost with the network
    let isLost = false;
    await page.route('**/api/fits', async (route) => {
      if (isLost) return route.fallback();
      isLost = true;
      await route.fetch();
      await page.context().setOffline(true);
      return route.abort('connectionreset');
    });
    for (const lot of lots.slice(14)) await scan(page, lot.code);
    await page.getByText('No network').waitFor();
    await page.getByText('16 wait').waitFor();
    expect(await fittingsOn(job)).toBe(15);

    await page.reload().catch(() => null);
    await page.context().setOffline(false);
    await page.goto('/bench');
    await page.getByText('nothing waits').waitFor();
    expect(await fittingsOn(job)).toBe(30);
    for (const lot of lots) expect(await held(lot)).toBe('1');
    expect(await verifyBooks(scene.server.database)).toEqual([]);
  });
});

describe('a stop shows its reason and changes nothing', () => {
  let job: Job;
  let wanted: string;
  let before: number;

  beforeAll(async () => {
    wanted = await stock.part({ name: 'Hub bearing, outer' });
    job = await stock.job([{ partId: wanted, quantity: '2' }]);
    await fitOnto(job);
  });
  beforeEach(async () => {
    before = await movements();
  });

  async function isStopped(lot: Made, ...words: string[]): Promise<void> {
    const stood = await movements();
    await scan(page, lot.code);
    await says('Not fitted', ...words);
    expect(await movements()).toBe(stood);
  }

  it('not on this job: fitted in place of a line, with why and on what evidence', async () => {
    const other = await stock.lot(await stock.part({ name: 'Hub bearing of another maker' }), { quantity: '3' });
    await isStopped(other, 'Not on this job', 'No line of this job asks for');
    await page.keyboard.press('1');
    await page.getByLabel('Why it will serve').waitFor();
    await page.getByLabel('Why it will serve').press('Enter');
    await page.getByText('This cannot be left empty.').first().waitFor();
    await page.getByLabel('Why it will serve').fill('none of the maker’s own to be had');
    await page.getByLabel('On what evidence').fill('measured 35, 72, 17');
    await page.getByLabel('On what evidence').press('Enter');
    await says('Fitted', 'the line is complete');
    const card = await scene.owner.get<{ coverage: { lines: { fittedFrom: object[] }[] } }>(`/api/jobs/${job.id}`);
    expect(card.body.coverage.lines[0]?.fittedFrom).toMatchObject([
      { inPlaceOf: true, why: 'none of the maker’s own to be had', evidence: 'measured 35, 72, 17', by: 'Mary Fenwright' },
    ]);
  });

  it('claimed for another job: says which', async () => {
    const partId = await stock.part({ name: 'Worm wheel' });
    const lot = await stock.lot(partId);
    const theirs = await stock.job([{ partId }]);
    const mine = await stock.job([{ partId }]);
    await scene.owner.post('/api/picks', { code: lot.code, jobId: theirs.id });
    await fitOnto(mine);
    await isStopped(
      lot,
      'Promised to another job',
      `${theirs.code.slice(0, 1)} ${theirs.code.slice(1, 7)} ${theirs.code.slice(7)}`,
    );
  });

  it('past its storage life, and rubber without a date', async () => {
    const partId = await stock.part({ name: 'Oil seal, worm input', material: 'rubber', polymer: 'NBR' });
    const old = await stock.lot(partId, { packetRead: '1994', packetEarliest: '1994-01-01', packetLatest: '1994-12-31' });
    const undated = await stock.lot(partId);
    await fitOnto(await stock.job([{ partId }]));
    await isStopped(old, 'Past its storage life');
    await isStopped(undated, 'Rubber without a date');
  });

  it('held back, with the reason of the hold', async () => {
    const partId = await stock.part({ name: 'Half shaft' });
    const lot = await stock.lot(partId);
    await scene.owner.post(`/api/things/${lot.id}/hold`, { reason: 'waits for crack detection' });
    await fitOnto(await stock.job([{ partId }]));
    await isStopped(lot, 'Held back', 'waits for crack detection');
  });

  it('another customer’s', async () => {
    const partId = await stock.part({ name: 'Brake drum' });
    const lot = await stock.lot(partId, { ownerId: await stock.customer('Wexmere Reading Room') });
    await fitOnto(await stock.job([{ partId }]));
    await isStopped(lot, 'Not ours to use', 'Wexmere Reading Room');
  });

  it('none left by the books: “I have it here” by command card finds it, fits it and tells stores', async () => {
    const partId = await stock.part({ name: 'Lock tab' });
    const lot = await stock.lot(partId, { quantity: '0' });
    const mine = await stock.job([{ partId }]);
    await fitOnto(mine);
    await isStopped(lot, 'None left by the books', 'I have it here');
    await scan(page, card('choice 1'));
    await says('Fitted', 'Found in your hand against the books');
    expect(await fittingsOn(mine)).toBe(1);
    expect(await count('FROM movements WHERE thing_id = $1', [lot.id])).toBe(2);
  });

  it('what is not decided waits at the side until somebody decides', async () => {
    const partId = await stock.part({ name: 'Cotter pin' });
    const stray = await stock.lot(await stock.part({ name: 'Split pin' }));
    const lot = await stock.lot(partId);
    await fitOnto(await stock.job([{ partId }]));
    await isStopped(stray, 'Not on this job');
    await scan(page, lot.code);
    await says('Fitted');
    const side = page.getByRole('region', { name: /At the side/ });
    await side.getByText('Not on this job').first().waitFor();
    await page.reload();
    await side
      .getByRole('listitem')
      .filter({ hasText: 'Not on this job' })
      .last()
      .getByRole('button', { name: 'Decide' })
      .click();
    await says('Not on this job');
    await page.keyboard.press('3');
    await lastScan().getByText('Not on this job').waitFor({ state: 'detached' });
    expect(await held(stray)).toBe('1');
  });

  it('has moved nothing but what was fitted', async () => {
    expect(before).toBe(await movements());
    expect(await verifyBooks(scene.server.database)).toEqual([]);
  });
});

describe('one act, one count', () => {
  let partId: string;
  let lot: Made;
  let job: Job;

  beforeEach(async () => {
    partId = await stock.part({ name: 'Thrust washer' });
    lot = await stock.lot(partId, { quantity: '9' });
    job = await stock.job([{ partId, quantity: '4' }]);
    await fitOnto(job);
  });

  it('a second Enter after a scan, and a scan keyed with Enter twice', async () => {
    await scan(page, lot.code);
    await page.keyboard.press('Enter');
    await says('Fitted');
    expect(await fittingsOn(job)).toBe(1);
    const second = await stock.job([{ partId, quantity: '2' }]);
    await fitOnto(second);
    await page.getByLabel('Scan, or key a code').fill(lot.code);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Enter');
    await says('Fitted');
    expect(await fittingsOn(second)).toBe(1);
    expect(await held(lot)).toBe('3');
  });

  it('picked into the tray it is still stock, and a fit takes it from there', async () => {
    await scan(page, card('pick'));
    await plate('pick').waitFor();
    await scan(page, lot.code);
    await says('Picked');
    expect(await held(lot)).toBe('9');
    expect(await count('FROM balances WHERE holder_id = $1 AND quantity = 4', [job.trayId])).toBe(1);
    await scan(page, card('fit'));
    await scan(page, lot.code);
    await says('Fitted');
    expect(await held(lot)).toBe('5');
    expect(await count('FROM balances WHERE holder_id = $1 AND quantity > 0', [job.trayId])).toBe(0);
  });

  it('a double click on a choice', async () => {
    const bare = await stock.lot(partId, { quantity: '0' });
    await scan(page, bare.code);
    await says('None left by the books');
    await lastScan().getByRole('button', { name: 'I have it here' }).dblclick();
    // exactly: the stopped scan before it says "Not fitted"
    await lastScan().getByText('Fitted', { exact: true }).waitFor();
    await page.getByText('nothing waits').waitFor();
    expect(await fittingsOn(job)).toBe(1);
  });

  it('digits keyed after a scan correct its quantity', async () => {
    await scan(page, lot.code);
    await says('Fitted', 'Thrust washer, 4');
    await page.keyboard.press('2');
    await says('pieces instead');
    await page.keyboard.press('Enter');
    await says('Fitted', 'Thrust washer, 2');
    expect(await held(lot)).toBe('7');
  });

  it('taken back by command card, as if it had not been', async () => {
    await scan(page, lot.code);
    await says('Fitted');
    await scan(page, card('take back'));
    await eventually(async () => expect(await held(lot)).toBe('9'));
    await page
      .getByRole('region', { name: /Last ten acts/ })
      .getByText('Taken back')
      .waitFor();
  });

  it('taken out again: a lot of its own, fitted once', async () => {
    const shelf = await stock.place();
    await scan(page, lot.code);
    await says('Fitted');
    await page.getByRole('button', { name: 'Take out again' }).click();
    const form = page.getByRole('form', { name: 'Take out again' });
    await form.getByLabel('Where it goes').waitFor();
    await scan(page, shelf.code);
    await form.getByLabel('Why it comes out').fill('the bore was scored');
    await form.getByLabel('Why it comes out').press('Enter');
    await page
      .getByRole('region', { name: /Last ten acts/ })
      .getByText('Taken out')
      .waitFor();
    expect(await count('FROM balances WHERE holder_id = $1 AND quantity = 4', [shelf.id])).toBe(1);
    expect(await verifyBooks(scene.server.database)).toEqual([]);
  });
});

describe('a scanner beside a person who types', () => {
  it('leaves a person’s own typing alone, however quick', async () => {
    await page.goto('/stores');
    await page.keyboard.press('F2');
    const search = page
      .getByRole('searchbox')
      .or(page.getByLabel(/^Search/))
      .first();
    await search.fill('');
    await search.focus();
    await typeAt(page, 'lot 12 of shims 000107 81', 90);
    expect(await search.inputValue()).toBe('lot 12 of shims 000107 81');
    expect(new URL(page.url()).pathname).toBe('/stores');
  });

  it('takes a burst out of the field again, where the caret stood, and scans it', async () => {
    const search = page
      .getByRole('searchbox')
      .or(page.getByLabel(/^Search/))
      .first();
    await search.fill('worm wheel');
    await search.evaluate((field: HTMLInputElement) => field.setSelectionRange(4, 4));
    await page.keyboard.press('F9');
    const place = await stock.place();
    await scan(page, place.code);
    await page.getByText('This place').waitFor();
    expect(await search.inputValue()).toBe('worm wheel');
    expect(await search.evaluate((field: HTMLInputElement) => field.selectionStart)).toBe(4);
  });

  it('leaves the consoles silent', () => {
    expect(scene.complaints).toEqual([]);
  });
});
