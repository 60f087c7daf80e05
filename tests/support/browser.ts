import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Browser, chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** The built web app, as the server serves it. */
export const webFolder = join(root, 'apps', 'web', 'dist');

/**
 * Builds the web app where it is stale and starts a browser; find-chromium.mjs says which.
 * @throws Error where there is none: browser tests are never left out in silence
 */
export async function startBrowser(): Promise<Browser> {
  await buildWebApp();
  const { findChromium } = (await import(pathToFileURL(join(import.meta.dirname, 'find-chromium.mjs')).href)) as {
    findChromium(): string;
  };
  // Without the options that come with the packaged one: they put all pages into one process and lift rules that the tests are to see kept.
  // A browser started by root has no sandbox to go into.
  return chromium.launch({ executablePath: findChromium(), chromiumSandbox: process.getuid?.() !== 0 });
}

async function buildWebApp(): Promise<void> {
  const build = (await import(pathToFileURL(join(root, 'scripts', 'build.mjs')).href)) as {
    prepare(targets: string[]): Promise<void>;
  };
  await build.prepare(['web']);
}
