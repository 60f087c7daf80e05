import { createPrivateKey, X509Certificate } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { hostname, networkInterfaces } from 'node:os';
import { resolve } from 'node:path';
import { type BooksLine, booksOptions, readBooksLine } from '../terminal/books-line.js';
import { type Read, say, terminalCommand } from '../terminal/terminal-command.js';
import { dayOf, namesIn } from './certificate-check.js';
import { nextSteps } from './certificate-words.js';
import { isPermitted, namesOfThisMachine, readHostNames } from './host-names.js';
import { type CertificateFiles, makeTlsFolder, tlsFolderOf, writeCertificate } from './tls-folder.js';

interface CertificateLine extends BooksLine {
  /** null: those of the certificate that is there */
  names: string[] | null;
}

/** `npm run certificate`: the workshop's own authority, made once, and by it a certificate of the server, made anew each time. */
export const certificateCommand = terminalCommand({
  usage: 'certificate --name HOST[,HOST2,ADDRESS …] [--data FOLDER]',
  options: { ...booksOptions, name: { type: 'string' } },
  read: (keyed, environment): Read<CertificateLine> => {
    const books = readBooksLine(keyed, environment);
    if (!books.ok) return books;
    const names = keyed.name === undefined ? null : readHostNames(keyed.name);
    if (names && !names.ok) return names;
    return { ok: true, value: { ...books.value, names: names?.value ?? null } };
  },
  run: certify,
});

async function certify(line: CertificateLine): Promise<void> {
  // Loaded here alone, since a start of the server has no use for it.
  const maker = await import('./workshop-authority.js');
  const now = new Date();
  const { folder, authority, server } = tlsFolderOf(line.dataFolder);
  const names = withThisMachine(line.names ?? (await namesBefore(server)));
  await makeTlsFolder(folder);
  const isNew = !existsSync(authority.cert);
  if (isNew) await writeCertificate(authority, await maker.makeAuthority(names, now));
  const cert = await readFile(authority.cert, 'utf8');
  const refusal = whyNotFor(names, { cert, permitted: maker.namesPermittedBy(cert), folder, now });
  if (refusal !== null) throw new Error(refusal);
  const key = createPrivateKey(await readKey(authority, folder));
  await writeCertificate(server, await maker.makeServerCertificate({ cert, key }, names, now));
  const made = { authority: new X509Certificate(cert), server: new X509Certificate(await readFile(server.cert, 'utf8')) };
  if (isNew)
    say(
      `Made the workshop's own authority. Until ${dayOf(new Date(made.authority.validTo))} it may vouch for ${names.join(', ')} and for nothing else.`,
    );
  say(
    `Made the server's certificate for ${names.join(', ')}. It ends on ${dayOf(new Date(made.server.validTo))}: run this again before then.`,
  );
  say(
    nextSteps({
      isNew,
      names,
      files: { authority, server },
      fingerprint: made.authority.fingerprint256,
      dataFolder: line.dataFolder,
    }),
  );
}

/** The names that were given come first: the first is what people are told to key. */
function withThisMachine(names: readonly string[]): string[] {
  return [...new Set([...names, ...namesOfThisMachine])];
}

async function namesBefore(server: CertificateFiles): Promise<string[]> {
  const text = await readFile(server.cert, 'utf8').catch(() => null);
  if (text !== null) return namesIn(new X509Certificate(text));
  const addresses = Object.values(networkInterfaces())
    .flatMap((each) => each ?? [])
    .filter((each) => !each.internal && each.family === 'IPv4')
    .map((each) => each.address);
  throw new Error(
    `Say by which names or addresses phones and tablets reach this machine: --name NAME,ADDRESS. It calls itself ${[hostname(), ...addresses].join(', ')}. ` +
      'A name that your network knows, or an address that stays the same, saves doing this again.',
  );
}

interface Authority {
  cert: string;
  permitted: string[] | null;
  folder: string;
  now: Date;
}

function whyNotFor(names: readonly string[], authority: Authority): string | null {
  const again = `Put the folder ${resolve(authority.folder)} aside and run this again: it makes a new authority, which every phone and tablet must then be given.`;
  const endsAt = new Date(new X509Certificate(authority.cert).validTo);
  if (endsAt <= authority.now) return `The workshop's own authority ended on ${dayOf(endsAt)}. ${again}`;
  const { permitted } = authority;
  const foreign = permitted ? names.filter((name) => !isPermitted(name, permitted)) : [];
  if (foreign.length === 0) return null;
  return `The workshop's own authority was made for ${permitted?.join(', ')} and cannot vouch for ${foreign.join(', ')}. Give other names, or begin anew. ${again}`;
}

async function readKey(authority: CertificateFiles, folder: string): Promise<string> {
  return readFile(authority.key, 'utf8').catch((error: NodeJS.ErrnoException) => {
    throw new Error(
      error.code === 'ENOENT'
        ? `The key of the workshop's own authority is missing: ${authority.key}. Restore it from a backup, or put the folder ${folder} aside and run this again: every phone and tablet must then be given the new authority.`
        : `${authority.key} cannot be read (${error.code}). Run this as the user who made it.`,
    );
  });
}
