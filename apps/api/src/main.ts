import 'reflect-metadata';
import type { TerminalCommand } from './platform/terminal/terminal-command.js';

/** What the program can be asked for. Each is loaded when it is asked for: not all need the whole server. */
const commands: Record<string, () => Promise<TerminalCommand>> = {
  serve: async () => (await import('./serve.js')).serveCommand,
  verify: async () => (await import('./stores/verify/verify-command.js')).verifyCommand,
  certificate: async () => (await import('./platform/tls/certificate-command.js')).certificateCommand,
  link: async () => (await import('./people/terminal-link/link-command.js')).linkCommand,
};

async function main([name, ...words]: string[]): Promise<void> {
  const load = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined;
  const asked = load ? (await load()).read(words, process.env) : { ok: false as const, words: await help() };
  if (asked.ok) return asked.value();
  process.stderr.write(`${asked.words}\n`);
  process.exitCode = 2;
}

async function help(): Promise<string> {
  const all = await Promise.all(Object.values(commands).map((load) => load()));
  return `Corewright

${all.map((command) => `  ${command.usage}`).join('\n')}

Without DATABASE_URL the server runs its own Postgres in the data folder. With it, DATABASE_OWNER_URL must name
the owner of the same database.`;
}

main(process.argv.slice(2)).catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
});
