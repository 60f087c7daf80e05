// Installs the packages and builds what is stale. Node built-ins only: this runs before anything is installed.
// Says what it does on standard error, so that standard output stays clean for whoever reads it.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..');

const stampFolder = join(root, 'node_modules', '.corewright');
const lockFile = join(root, '.cache', 'building.lock');

/** What can be built: from which files, into which file (its absence is proof enough that it must be built), and how. */
const targets = {
  server: {
    what: 'the server',
    sources: () => [...libraries(), 'apps/api/src', 'apps/api/tsconfig.json', 'tsconfig.base.json'],
    result: 'apps/api/dist/main.js',
    // The entry point is looked for only where its source is there.
    entry: 'apps/api/src/main.ts',
    build: () => runNode(['node_modules/typescript/bin/tsc', '-b', 'apps/api']),
  },
  web: {
    what: 'the web app',
    sources: () => [...libraries(), 'apps/web', 'tsconfig.base.json'],
    result: 'apps/web/dist/index.html',
    entry: 'apps/web/index.html',
    build: () => runNode(['../../node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn'], join(root, 'apps/web')),
  },
  bench: {
    what: 'the measurements',
    sources: () => [...libraries(), 'apps/api/src', 'tests/bench', 'tests/support', 'tsconfig.base.json'],
    result: 'tests/bench/dist/main.js',
    entry: 'tests/bench/tsconfig.json',
    build: () => runNode(['node_modules/typescript/bin/tsc', '-b', 'tests/bench']),
  },
};

/**
 * Makes the packages and the named targets ready. Quick where nothing is stale; otherwise one process at a time.
 * @param {(keyof typeof targets)[]} names
 */
export async function prepare(names) {
  if (isReady(names)) return;
  await withLock(() => {
    if (!isInstalled()) install();
    for (const name of names) if (isStale(name)) build(name);
  });
}

/** A failure that has already been explained on standard error. */
export class BuildFailure extends Error {}

export function say(line) {
  process.stderr.write(`${line}\n`);
}

function isReady(names) {
  return isInstalled() && names.every((name) => !isStale(name));
}

function install() {
  const npm = process.env.npm_execpath;
  const words = ['ci', '--ignore-scripts', '--no-audit', '--no-fund'];
  say('Installing the packages (first start, or the lock file has changed) …');
  const done = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...words], { cwd: root, stdio: ['ignore', 2, 2] })
    : spawnSync('npm', words, { cwd: root, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
  if (done.status !== 0)
    throw new BuildFailure(`The packages could not be installed${done.error ? `: ${done.error.message}` : ''}.`);
  writeStamp('install', hashOf(readFileSync(join(root, 'package-lock.json'))));
}

/** Packages that were installed by hand count too, where each is of the version that the lock file names. */
function isInstalled() {
  const wanted = readFileSync(join(root, 'package-lock.json'));
  const hash = hashOf(wanted);
  if (readStamp('install') === hash) return true;
  if (!isAsLocked(JSON.parse(wanted.toString('utf8')).packages)) return false;
  writeStamp('install', hash);
  return true;
}

function isAsLocked(wanted) {
  const inventory = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(inventory)) return false;
  const found = JSON.parse(readFileSync(inventory, 'utf8')).packages;
  return Object.entries(wanted).every(([path, entry]) => {
    if (!path.startsWith('node_modules/')) return true;
    const there = found[path];
    // An optional package for another kind of machine is rightly missing.
    if (there === undefined) return entry.optional === true;
    return there.version === entry.version && there.integrity === entry.integrity && existsSync(join(root, path));
  });
}

function isStale(name) {
  const target = targets[name];
  if (!existsSync(join(root, target.entry))) return false;
  return !existsSync(join(root, target.result)) || readStamp(name) !== signatureOf(target.sources());
}

function build(name) {
  const target = targets[name];
  // Taken before the build: a file that changes meanwhile makes the result stale again.
  const signature = signatureOf(target.sources());
  say(`Building ${target.what} …`);
  const begun = Date.now();
  if (target.build() !== 0) throw new BuildFailure(`Building ${target.what} failed; see above.`);
  writeStamp(name, signature);
  say(`Built ${target.what} in ${((Date.now() - begun) / 1000).toFixed(1)} s.`);
}

/** A build that a test has begun is no other: what is made in its surroundings would be the slow kind that tells where its sources lie. */
function runNode(words, cwd = root) {
  return spawnSync(process.execPath, words, { cwd, env: { ...process.env, NODE_ENV: 'production' }, stdio: ['ignore', 2, 2] })
    .status;
}

function libraries() {
  return readdirSync(join(root, 'libs')).flatMap((name) => [`libs/${name}/src`, `libs/${name}/tsconfig.json`]);
}

/** A fingerprint of the files by name, size and time; reading them all would take longer. */
function signatureOf(paths) {
  const lines = paths.flatMap((path) => listFiles(join(root, path))).map(describe);
  lines.push(readStamp('install') ?? '', process.version);
  return hashOf(lines.sort().join('\n'));
}

function describe(path) {
  const found = statSync(path);
  return `${relative(root, path)}\t${found.size}\t${found.mtimeMs}`;
}

function listFiles(path) {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return [];
  if (!found.isDirectory()) return /\.spec\.tsx?$/.test(path) ? [] : [path];
  return readdirSync(path)
    .filter((name) => name !== 'dist' && name !== 'node_modules')
    .flatMap((name) => listFiles(join(path, name)));
}

function hashOf(content) {
  return createHash('sha256').update(content).digest('hex');
}

function readStamp(name) {
  const path = join(stampFolder, name);
  return existsSync(path) ? readFileSync(path, 'utf8') : null;
}

function writeStamp(name, text) {
  mkdirSync(stampFolder, { recursive: true });
  writeFileSync(join(stampFolder, name), text);
}

async function withLock(work) {
  mkdirSync(dirname(lockFile), { recursive: true });
  for (let waited = 0; !tryLock(); waited += 200) {
    if (waited === 0) say('Another start is building; waiting for it …');
    await pause(200);
  }
  try {
    work();
  } finally {
    rmSync(lockFile, { force: true });
  }
}

function tryLock() {
  try {
    writeFileSync(lockFile, String(process.pid), { flag: 'wx' });
    return true;
  } catch (error) {
    if (error.code !== 'EEXIST') throw error;
  }
  if (isAbandoned()) rmSync(lockFile, { force: true });
  return false;
}

function isAbandoned() {
  const found = statSync(lockFile, { throwIfNoEntry: false });
  if (found === undefined) return false;
  const pid = Number.parseInt(readFileSync(lockFile, 'utf8'), 10);
  // Between its making and its writing a lock is empty for a moment.
  if (Number.isNaN(pid)) return Date.now() - found.mtimeMs > 10_000;
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return error.code === 'ESRCH';
  }
}
