// The one door to everything: installs and builds what is stale, says so, then does what was asked.
// Node built-ins only, so that it works on a fresh clone.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { constants } from 'node:os';
import { join } from 'node:path';
import { BuildFailure, prepare, root, say } from './build.mjs';

const server = 'apps/api/dist/main.js';

const commands = {
  /** The workshop's own server. */
  start: async (words) => {
    await prepare(['server', 'web']);
    return runNode([server, 'serve', '--data', '.data/workshop', ...words]);
  },
  /** The server with an invented workshop in it. */
  example: async (words) => {
    await prepare(['server', 'web']);
    return runNode([server, 'serve', '--data', '.data/example', '--example', ...words]);
  },
  /** Rebuilds every balance from the movements and reports differences. */
  verify: async (words) => {
    await prepare(['server']);
    return runNode([server, 'verify', ...words]);
  },
  /** The workshop's own authority, and by it the certificate of the server for phones and tablets. */
  certificate: async (words) => {
    await prepare(['server']);
    return runNode([server, 'certificate', ...words]);
  },
  /** A one-time link for an owner who has forgotten the pass phrase. */
  link: async (words) => {
    await prepare(['server']);
    return runNode([server, 'link', ...words]);
  },
  test: async (words) => {
    await prepare(['server', 'web']);
    return runTests(words);
  },
  check: async () => {
    await prepare([]);
    return runChecks();
  },
  bench: async (words) => {
    await prepare(['server', 'bench']);
    return runNode(['tests/bench/dist/main.js', ...words]);
  },
  build: async () => {
    await prepare(['server', 'web', 'bench']);
    return 0;
  },
};

async function main([name, ...words]) {
  const command = Object.hasOwn(commands, name ?? '') ? commands[name] : null;
  if (command === null) {
    say(`Say what to do: node scripts/run.mjs ${Object.keys(commands).join(' | ')}`);
    return 2;
  }
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    say(`Node 20.19 or later is needed; this is ${process.version}.`);
    return 2;
  }
  try {
    return await command(words);
  } catch (error) {
    if (!(error instanceof BuildFailure)) throw error;
    say(error.message);
    return 1;
  }
}

function runTests(words) {
  const isLong = words.includes('--long');
  const rest = words.filter((word) => word !== '--long');
  // Tests take their database from TEST_DATABASE_URL alone: they must never meet the data of a workshop.
  const { DATABASE_URL: _serving, DATABASE_OWNER_URL: _owner, ...kept } = process.env;
  const env = { ...kept, ...(isLong ? { CW_LONG: '1' } : {}) };
  return runNode(
    ['--experimental-vm-modules', '--disable-warning=ExperimentalWarning', 'node_modules/jest/bin/jest.js', ...rest],
    env,
  );
}

async function runChecks() {
  const checks = [
    ['formatting and lint', ['node_modules/@biomejs/biome/bin/biome', 'ci', '.']],
    [
      'who may import whom',
      [
        'node_modules/dependency-cruiser/bin/dependency-cruise.mjs',
        '--config',
        '.dependency-cruiser.cjs',
        'apps',
        'libs',
        'tests',
      ],
    ],
    ['types', ['node_modules/typescript/bin/tsc', '-b']],
    ['types of the web app', ['node_modules/typescript/bin/tsc', '-p', 'apps/web']],
    ['types of the tests', ['node_modules/typescript/bin/tsc', '-p', 'tests']],
  ];
  const failed = [];
  for (const [what, words] of checks) {
    const begun = Date.now();
    const code = await runNode(words);
    say(`${code === 0 ? 'Clean' : 'NOT CLEAN'}: ${what} (${((Date.now() - begun) / 1000).toFixed(1)} s)`);
    if (code !== 0) failed.push(what);
  }
  if (failed.length > 0) say(`Not clean: ${failed.join(', ')}.`);
  return failed.length > 0 ? 1 : 0;
}

/** Runs a program to its end; resolves to its exit code. */
function runNode(words, env = process.env) {
  const program = words.find((word) => !word.startsWith('--'));
  if (!existsSync(join(root, program))) {
    say(`${program} is not there.`);
    return Promise.resolve(1);
  }
  const child = spawn(process.execPath, words, { cwd: root, stdio: 'inherit', env });
  const stopForwarding = forwardSignals(child);
  return new Promise((settle) => {
    child.once('error', (error) => {
      say(error.message);
      settle(1);
    });
    child.once('exit', (code, signal) => {
      stopForwarding();
      settle(code ?? 128 + constants.signals[signal]);
    });
  });
}

/** A terminal sends Ctrl-C to the child as well; a second one from here would look like impatience. */
function forwardSignals(child) {
  const forward = {
    SIGINT: () => {
      if (!process.stdin.isTTY) child.kill('SIGINT');
    },
    SIGTERM: () => child.kill('SIGTERM'),
    SIGHUP: () => child.kill('SIGHUP'),
  };
  for (const [signal, handler] of Object.entries(forward)) process.on(signal, handler);
  return () => {
    for (const [signal, handler] of Object.entries(forward)) process.off(signal, handler);
  };
}

process.exitCode = await main(process.argv.slice(2));
