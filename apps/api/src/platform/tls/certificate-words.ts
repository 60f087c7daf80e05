import { isIPv6 } from 'node:net';
import { relative, resolve } from 'node:path';
import { booksOptions } from '../terminal/books-line.js';
import type { CertificateFiles } from './tls-folder.js';

interface Made {
  /** the authority was made now */
  isNew: boolean;
  names: readonly string[];
  files: { authority: CertificateFiles; server: CertificateFiles };
  /** SHA-256 of the authority's certificate, in hexadecimal pairs */
  fingerprint: string;
  dataFolder: string;
}

const usualPort = 4780;

/** What is left for a person to do once the certificates are made. */
export function nextSteps(made: Made): string {
  const { authority, server } = made.files;
  const isUsualFolder = made.dataFolder === resolve(booksOptions.data.default);
  const folder = isUsualFolder ? '' : `--data ${quoted(relativeTo(made.dataFolder))} `;
  const start = `npm start -- ${folder}--host 0.0.0.0`;
  const address = originOf('https', made.names[0] ?? 'localhost', usualPort);
  return `
Start the server with it, stopping it first where it runs:

  ${start} --cert ${quoted(server.cert)} --key ${quoted(server.key)}

It finds the two files by itself where they are not named:

  ${start}

${made.isNew ? 'Each phone, tablet and other computer must be given' : 'Each phone, tablet and other computer that has not yet been given it needs'} the authority's certificate once, and be told to trust it
for web sites; its maker's own instructions say where. It is the file

  ${authority.cert}

and the server gives it out at ${address}/authority.crt (the device warns of the connection until it trusts it).
Before you trust it, compare its SHA-256 fingerprint by eye, on the device, with this one:

  ${made.fingerprint}

Let nobody have ${authority.key}: with it one can pose as this server towards those devices.
Keep the folder in the backups: without the key every device must be given a new authority.`;
}

/** `https://[fd00::20]:4780`: how a server is reached by one of its names. */
export function originOf(scheme: 'http' | 'https', name: string, port: number): string {
  return `${scheme}://${isIPv6(name) ? `[${name}]` : name}:${port}`;
}

function relativeTo(folder: string): string {
  const path = relative('', folder);
  return path.startsWith('..') ? folder : path;
}

function quoted(path: string): string {
  return /^[\w./-]+$/.test(path) ? path : `'${path.replaceAll("'", `'\\''`)}'`;
}
