// Which Chromium the browser tests and the pictures of the docs are made with. Plain JavaScript: programs without a build take it too.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..', '..');

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

/**
 * The path of the browser that CHROMIUM_PATH names, else of one of the system's, else of the one that comes with the packages.
 * `CHROMIUM_PATH=bundled` takes the last at once.
 * @returns {string}
 * @throws Error where there is none
 */
export function findChromium() {
  const named = process.env.CHROMIUM_PATH ?? '';
  const system = named === '' ? systemPaths.find((path) => existsSync(path)) : named;
  if (system !== undefined && system !== 'bundled') return system;
  // The packaged one is a program for Linux.
  if (process.platform !== 'linux' || process.arch !== 'x64')
    throw new Error('No Chromium was found on this machine. Say where one is with CHROMIUM_PATH; the tests need a real browser.');
  return unpacked();
}

/**
 * The package writes its browser into the folder for temporary files and takes whatever lies there for whole, so that the second of
 * two tests that begin together would run a file half written. Here each unpacks into a folder of its own, and the first that is
 * done gives it the name that all look for.
 */
function unpacked() {
  const { version } = JSON.parse(readFileSync(join(root, 'node_modules', '@sparticuz', 'chromium', 'package.json'), 'utf8'));
  const cache = join(root, '.cache');
  const folder = join(cache, `chromium-${version}`);
  const program = join(folder, 'chromium');
  if (existsSync(program)) return program;
  mkdirSync(cache, { recursive: true });
  const own = mkdtempSync(join(cache, 'unpacking-'));
  const unpack = "await (await import('@sparticuz/chromium')).default.executablePath()";
  execFileSync(process.execPath, ['--input-type=module', '--eval', unpack], { cwd: root, env: { ...process.env, TMPDIR: own } });
  try {
    renameSync(own, folder);
  } catch (error) {
    rmSync(own, { recursive: true });
    // Another was first.
    if (!existsSync(program)) throw error;
  }
  return program;
}
