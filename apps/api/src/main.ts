import 'reflect-metadata';
import { readCommandLine } from './platform/config/command-line.js';
import { serve } from './serve.js';
import { verifyCommand } from './stores/verify/verify-command.js';

const commandLine = readCommandLine(process.argv.slice(2), process.env);

if (!commandLine.ok) {
  process.stderr.write(`${commandLine.words}\n`);
  process.exitCode = 2;
} else {
  const run = commandLine.command === 'verify' ? verifyCommand : serve;
  run(commandLine).catch((error: unknown) => {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  });
}
