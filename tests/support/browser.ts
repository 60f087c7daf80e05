import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import bundled from '@sparticuz/chromium';
import { type Browser, chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** The built web app, as the server serves it. */
export const webFolder = join(root, 'apps', 'web', 'dist');

/** Where systems keep a Chromium. */
const systemPaths = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** The packaged Chromium is a program for Linux. */
const isBundledForHere = process.platform === 'linux' && process.arch === 'x64';

/**
 * Builds the web app where it is stale and starts a browser: the one that CHROMIUM_PATH names, else one of the system's, else the
 * one that comes with the packages. `CHROMIUM_PATH=bundled` takes the last at once.
 * @throws Error where there is none: browser tests are never left out in silence
 */
export async function startBrowser(): Promise<Browser> {
  await buildWebApp();
  const named = process.env.CHROMIUM_PATH ?? '';
  const system = named === '' ? systemPaths.find((path) => existsSync(path)) : named;
  if (system !== undefined && system !== 'bundled') return launch(system);
  if (!isBundledForHere)
    throw new Error('No Chromium was found on this machine. Say where one is with CHROMIUM_PATH; the tests need a real browser.');
  // Without the options that come with it: they put all pages into one process and lift rules that the tests are to see kept.
  return launch(await bundled.executablePath());
}

async function buildWebApp(): Promise<void> {
  const build = (await import(pathToFileURL(join(root, 'scripts', 'build.mjs')).href)) as {
    prepare(targets: string[]): Promise<void>;
  };
  await build.prepare(['web']);
}

function launch(executablePath: string): Promise<Browser> {
  // A browser started by root has no sandbox to go into.
  return chromium.launch({ executablePath, chromiumSandbox: process.getuid?.() !== 0 });
}
