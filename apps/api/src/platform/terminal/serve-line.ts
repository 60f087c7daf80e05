import { join, resolve } from 'node:path';
import { loopback, type PhotographSettings } from '../config/config.js';
import { type CertificateFiles, ownCertificate } from '../tls/tls-folder.js';
import { type BooksLine, booksOptions, readBooksLine } from './books-line.js';
import { type Read, refuse } from './terminal-command.js';

/** How the server is to be started. */
export interface ServeLine extends BooksLine {
  host: string;
  port: number;
  example: boolean;
  tls: CertificateFiles | null;
  photographs: PhotographSettings;
}

export const serveOptions = {
  ...booksOptions,
  port: { type: 'string', default: '4780' },
  host: { type: 'string', default: '127.0.0.1' },
  example: { type: 'boolean', default: false },
  cert: { type: 'string' },
  key: { type: 'string' },
  photographs: { type: 'string' },
  'photograph-mb': { type: 'string' },
} as const;

const photographMegabytes = { usual: 40, max: 500 };

interface Keyed {
  data: string;
  port: string;
  host: string;
  example: boolean;
  cert?: string | undefined;
  key?: string | undefined;
  photographs?: string | undefined;
  'photograph-mb'?: string | undefined;
}

export function readServeLine(keyed: Keyed, environment: NodeJS.ProcessEnv): Read<ServeLine> {
  const port = Number(keyed.port);
  if (keyed.port === '' || !Number.isInteger(port) || port < 0 || port > 65535)
    return refuse(`"${keyed.port}" is not a port. Give a number from 0 to 65535.`);
  const books = readBooksLine(keyed, environment);
  if (!books.ok) return books;
  const tls = tlsOf(keyed, books.value.dataFolder);
  if (!tls.ok) return tls;
  const photographs = photographsOf(keyed, environment, books.value.dataFolder);
  if (!photographs.ok) return photographs;
  const { host, example } = keyed;
  return { ok: true, value: { ...books.value, host, port, example, tls: tls.value, photographs: photographs.value } };
}

/** What is keyed counts before what the environment says. */
function photographsOf(keyed: Keyed, environment: NodeJS.ProcessEnv, dataFolder: string): Read<PhotographSettings> {
  const folder = keyed.photographs ?? environment.CW_PHOTOGRAPHS ?? join(dataFolder, 'photographs');
  const said = keyed['photograph-mb'] ?? environment.CW_PHOTOGRAPH_MB ?? String(photographMegabytes.usual);
  const megabytesMax = Number(said);
  if (!Number.isInteger(megabytesMax) || megabytesMax < 1 || megabytesMax > photographMegabytes.max)
    return refuse(`A photograph of "${said}" megabytes at most? Give a whole number from 1 to ${photographMegabytes.max}.`);
  if (folder.trim() === '') return refuse('--photographs names no folder. Name one, or leave it out.');
  return { ok: true, value: { folder: resolve(folder), megabytesMax } };
}

/** What is named counts. Beyond this machine, where nothing is named, the workshop's own certificate is taken. */
function tlsOf(keyed: Keyed, dataFolder: string): Read<CertificateFiles | null> {
  if ((keyed.cert === undefined) !== (keyed.key === undefined)) return refuse('--cert and --key go together.');
  if (keyed.cert !== undefined && keyed.key !== undefined) return { ok: true, value: { cert: keyed.cert, key: keyed.key } };
  if (loopback.has(keyed.host)) return { ok: true, value: null };
  const own = ownCertificate(dataFolder);
  if (own) return { ok: true, value: own };
  return refuse(
    'Beyond this machine Corewright speaks HTTPS only, since sign-in, camera and the offline queue need it. ' +
      'Give --cert and --key, or have a certificate made first (npm run certificate -- --name NAME, with the name or ' +
      'address by which phones and tablets reach this machine), or leave --host out.',
  );
}
