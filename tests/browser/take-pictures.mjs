// Takes the pictures of docs/pictures. Start the example, then: node tests/browser/take-pictures.mjs THE-SIGN-IN-LINK-IT-PRINTS
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import sharp from 'sharp';
import { findChromium } from '../support/find-chromium.mjs';

const folder = join(import.meta.dirname, '..', '..', 'docs', 'pictures');
const rareJob = 'J00010781';
const shelfWornSeal = '48-2230';

const link = process.argv[2];
if (link === undefined) throw new Error('Say the sign-in link that the example printed when it started.');

const browser = await chromium.launch({
  executablePath: findChromium(),
  chromiumSandbox: process.getuid?.() !== 0,
});
const page = await browser.newPage({ baseURL: new URL(link).origin, viewport: { width: 1440, height: 1000 } });
await page.goto(link);
await page.getByRole('navigation', { name: 'Places' }).waitFor();
await mkdir(folder, { recursive: true });

/** A palette of 64 is enough for paper, card and ink. */
async function take(name) {
  await page.evaluate(() => document.fonts.ready);
  const picture = await page.screenshot({ animations: 'disabled', caret: 'hide' });
  const { size } = await sharp(picture)
    .png({ palette: true, colours: 64, effort: 10, compressionLevel: 9 })
    .toFile(join(folder, `${name}.png`));
  process.stdout.write(`${name}.png, ${Math.round(size / 1000)} kB\n`);
}

const read = (path) => page.evaluate(async (each) => (await fetch(`/api${each}`)).json(), path);

async function scan(code) {
  await page.keyboard.type(code);
  await page.keyboard.press('Enter');
}

const job = await read(`/scan/${rareJob}`);
await page.goto(`/jobs/${job.id}`);
await page.getByRole('heading', { name: /stop the job/ }).waitFor();
await take('job-card');

await page.goto('/jobs/by-part');
await page.getByText('goes without').first().waitFor();
await take('parts-in-conflict');

const rack = (await read('/places?q=R3')).places.find(({ kind }) => kind === 'rack');
await page.goto(`/stores/places/${rack.id}`);
await page.getByRole('heading', { name: 'What stands in it' }).waitFor();
await take('rack');

const { loads } = await read('/loads');
await page.goto(`/goods-in/${loads[0].id}`);
await page.getByRole('button', { name: 'Change row 12', exact: true }).click();
await page.getByLabel('packet date').waitFor();
await take('goods-in');

const { hits } = await read(`/search?q=${shelfWornSeal}`);
const { lots } = await read(`/parts/${hits[0].id}`);
await page.goto('/bench');
await page.getByText('Ready').waitFor();
await page.keyboard.press('F8');
await scan(rareJob);
await page.getByText('This job', { exact: true }).waitFor();
await scan(lots.find((lot) => lot.storageLife.state === 'past').code);
await page.getByText('Or scan on.').waitFor();
await take('bench');

await browser.close();
