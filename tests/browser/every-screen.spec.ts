import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { jest } from '@jest/globals';
import type { AxeResults, RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';
import { tabFarTo } from './keying.js';
import { openScene, type Scene } from './scene.js';
import type { Screen } from './screen.js';
import { everyScreen } from './screens.js';

// three widths of some eighty screens, by the rules of accessibility, on a machine that may be busy
jest.setTimeout(600_000);

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const desk = { width: 1440, height: 1000 };
const tablet = { width: 820, height: 1180 };
const phone = { width: 360, height: 740 };
const themes = ['light', 'dark'] as const;
/** CSS pixels, each way; a hair less for what browsers round. */
const targetMin = 47.5;

let scene: Scene;
let screens: Screen[];

beforeAll(async () => {
  scene = await openScene('screens');
  screens = await everyScreen(scene);
});
afterAll(async () => {
  await scene.stop();
});

async function open(page: Page, screen: Screen): Promise<void> {
  await page.goto(screen.path);
  await screen.ready(page).waitFor();
  await screen.prepare?.(page);
  await page.evaluate(axe);
}

/** Makes the window narrower with the screen in it, and waits until that has its new form. */
async function narrow(page: Page, screen: Screen, viewport: typeof desk): Promise<void> {
  await page.setViewportSize(viewport);
  if (screen.opensByWidth) await open(page, screen);
  await page.evaluate(() => new Promise((settle) => requestAnimationFrame(() => requestAnimationFrame(settle))));
  await screen.action(page).waitFor();
}

/** The rules that a change of theme can break; all others are tried once for a screen. */
const rulesOfTheme = ['color-contrast', 'link-in-text-block'];
const standards = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

async function brokenRules(page: Page, theme: (typeof themes)[number]): Promise<string[]> {
  await page.emulateMedia({ colorScheme: theme, reducedMotion: 'reduce' });
  const { violations } = await page.evaluate<AxeResults, RunOptions>(
    (options) => (globalThis as unknown as { axe: { run(options: RunOptions): Promise<AxeResults> } }).axe.run(options),
    { runOnly: theme === 'light' ? standards : rulesOfTheme, resultTypes: ['violations'], preload: false },
  );
  return violations.flatMap(({ id, nodes }) => nodes.slice(0, 5).map((node) => `${id}: ${node.html.slice(0, 160)}`));
}

/** Runs in the page: how far it can be pushed sideways, in CSS pixels. */
const sidewaysScroll = () => document.documentElement.scrollWidth - document.documentElement.clientWidth;

/** Runs in the page: buttons and fields under the least size, with their names and sizes. A small box counts with its label. */
function smallTargets(min: number): string[] {
  const found = document.querySelectorAll<HTMLElement>(
    'button, select, textarea, input, summary, [role="button"], [role="combobox"]',
  );
  return [...found].flatMap((element) => {
    const isBox = element instanceof HTMLInputElement && ['checkbox', 'radio', 'file'].includes(element.type);
    const target = isBox ? (element.closest('label') ?? element) : element;
    const { width, height } = target.getBoundingClientRect();
    const isShown = target.checkVisibility({ visibilityProperty: true }) && width > 1 && height > 1;
    if (!isShown || element.matches(':disabled') || (width >= min && height >= min)) return [];
    const name = element.getAttribute('aria-label') ?? target.textContent ?? '';
    return [`${element.tagName.toLowerCase()} "${name.trim().slice(0, 40)}" ${Math.round(width)} x ${Math.round(height)}`];
  });
}

/** On a tablet a screen has the pieces of the desk or those of the phone, of which the rules have been tried; in the long run they are tried there too. */
const withRules = { desk: true, tablet: process.env.CW_LONG === '1', phone: true };

/** What is wrong with the screen that stands on the page, in light and dark. */
async function faultsOf(page: Page, width: keyof typeof withRules): Promise<string[]> {
  const sideways = await page.evaluate(sidewaysScroll);
  const faults = await page.evaluate(smallTargets, targetMin);
  if (sideways > 0) faults.push(`scrolls sideways by ${sideways}`);
  if (!withRules[width]) return faults;
  for (const theme of themes) faults.push(...(await brokenRules(page, theme)).map((rule) => `${theme}, ${rule}`));
  return faults;
}

/** What is wrong with a screen on a desk, on a tablet and on a phone; on the desk Tab must come to what a person comes for. */
async function faultsAtEachWidth(page: Page, screen: Screen): Promise<string[]> {
  await page.setViewportSize(desk);
  await open(page, screen);
  await tabFarTo(page, screen.action(page), 250);
  const faults = (await faultsOf(page, 'desk')).map((fault) => `desk, ${fault}`);
  for (const name of ['tablet', 'phone'] as const) {
    await narrow(page, screen, { tablet, phone }[name]);
    faults.push(...(await faultsOf(page, name)).map((fault) => `${name}, ${fault}`));
  }
  return faults;
}

/** Goes through all screens in one browser and gathers what is wrong with each, so that one fault does not hide the next. */
async function faultsOfEveryScreen(): Promise<string[]> {
  const inside = await scene.page();
  const refused: string[] = [];
  inside.on('response', (response) => {
    // a stopped scan is answered with 409
    if (response.status() >= 400 && response.status() !== 409)
      refused.push(`${response.status()} from ${new URL(response.url()).pathname}`);
  });
  const outside = await (await scene.context()).newPage();
  const faults: string[] = [];
  for (const screen of screens) {
    const found = await faultsAtEachWidth(screen.outside ? outside : inside, screen).catch((error: unknown) => [String(error)]);
    faults.push(...[...found, ...refused.splice(0)].map((fault) => `${screen.name}: ${fault}`));
  }
  await inside.context().close();
  await outside.context().close();
  return faults;
}

describe('every screen', () => {
  it('is free of broken rules, of sideways scroll and of small targets, on a desk, a tablet and a phone, light and dark', async () => {
    expect(await faultsOfEveryScreen()).toEqual([]);
  });

  it('leaves the consoles silent: no fault of a script, nothing against the content policy', () => {
    expect(scene.complaints).toEqual([]);
  });
});
