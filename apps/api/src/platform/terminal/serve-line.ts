import { loopback } from '../config/config.js';
import { type CertificateFiles, ownCertificate } from '../tls/tls-folder.js';
import { type BooksLine, booksOptions, readBooksLine } from './books-line.js';
import { type Read, refuse } from './terminal-command.js';

/** How the server is to be started. */
export interface ServeLine extends BooksLine {
  host: string;
  port: number;
  example: boolean;
  tls: CertificateFiles | null;
}

export const serveOptions = {
  ...booksOptions,
  port: { type: 'string', default: '4780' },
  host: { type: 'string', default: '127.0.0.1' },
  example: { type: 'boolean', default: false },
  cert: { type: 'string' },
  key: { type: 'string' },
} as const;

interface Keyed {
  data: string;
  port: string;
  host: string;
  example: boolean;
  cert?: string | undefined;
  key?: string | undefined;
}

export function readServeLine(keyed: Keyed, environment: NodeJS.ProcessEnv): Read<ServeLine> {
  const port = Number(keyed.port);
  if (keyed.port === '' || !Number.isInteger(port) || port < 0 || port > 65535)
    return refuse(`"${keyed.port}" is not a port. Give a number from 0 to 65535.`);
  const books = readBooksLine(keyed, environment);
  if (!books.ok) return books;
  const tls = tlsOf(keyed, books.value.dataFolder);
  if (!tls.ok) return tls;
  return { ok: true, value: { ...books.value, host: keyed.host, port, example: keyed.example, tls: tls.value } };
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
