import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Browser, chromium } from 'playwright-core';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** The built web app, as the server serves it. */
export const webFolder = join(root, 'apps', 'web', 'dist');

/**
 * Builds the web app where it is stale and starts a browser; find-chromium.mjs says which.
 * @param options of Chromium's command line
 * @throws Error where there is none: browser tests are never left out in silence
 */
export async function startBrowser(options: readonly string[] = []): Promise<Browser> {
  await buildWebApp();
  const { findChromium } = (await import(pathToFileURL(join(import.meta.dirname, 'find-chromium.mjs')).href)) as {
    findChromium(): string;
  };
  return launch(findChromium(), [...options]);
}

const launchesMax = 3;

/**
 * Once in some hundred starts on a machine that is busy or new, Chromium dies of a segmentation fault before it has answered at all. What is
 * tested comes after that, so it is started again, and the fault is told.
 */
async function launch(executablePath: string, args: string[], nth = 1): Promise<Browser> {
  try {
    // Without the options that come with the packaged one: they put all pages into one process and lift rules that the tests are to see kept.
    // A browser started by root has no sandbox to go into.
    return await chromium.launch({ executablePath, args, chromiumSandbox: process.getuid?.() !== 0 });
  } catch (error) {
    if (nth === launchesMax || !String(error).includes('signal=SIGSEGV')) throw error;
    process.stderr.write('Chromium died at its start (segmentation fault) and is started again.\n');
    return launch(executablePath, args, nth + 1);
  }
}

async function buildWebApp(): Promise<void> {
  const build = (await import(pathToFileURL(join(root, 'scripts', 'build.mjs')).href)) as {
    prepare(targets: string[]): Promise<void>;
  };
  await build.prepare(['web']);
}
