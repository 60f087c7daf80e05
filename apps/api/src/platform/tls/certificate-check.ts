import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { isIPv6 } from 'node:net';
import { type Read, refuse } from '../terminal/terminal-command.js';
import type { CertificateFiles } from './tls-folder.js';

export interface CheckedCertificate {
  /** in the order of the certificate */
  names: string[];
  endsAt: Date;
}

/** Whether a server can start with these files; what is wrong with them comes back in words, so that nobody has to read OpenSSL's. */
export function checkCertificate(files: CertificateFiles, now: Date): Read<CheckedCertificate> {
  const cert = readText(files.cert);
  if (!cert.ok) return cert;
  const key = readText(files.key);
  if (!key.ok) return key;
  const certificate = parse(() => new X509Certificate(cert.value));
  if (!certificate) return refuse(`${files.cert} holds no certificate in PEM form.`);
  const privateKey = parse(() => createPrivateKey(key.value));
  if (!privateKey) return refuse(`${files.key} holds no private key in PEM form, or one behind a password.`);
  if (!certificate.checkPrivateKey(privateKey))
    return refuse(`The key in ${files.key} is not the one of the certificate in ${files.cert}.`);
  const endsAt = new Date(certificate.validTo);
  if (endsAt <= now) return refuse(`The certificate in ${files.cert} ended on ${dayOf(endsAt)}. A new one is needed.`);
  return { ok: true, value: { names: namesIn(certificate), endsAt } };
}

/** The names and addresses that a certificate is for, addresses in their shortest form. */
export function namesIn(certificate: X509Certificate): string[] {
  const words = certificate.subjectAltName?.split(', ') ?? [];
  return words.flatMap((word) => {
    const [, kind, name] = /^(DNS|IP Address):([^"]+)$/.exec(word) ?? [];
    if (kind === undefined || name === undefined) return [];
    return isIPv6(name) ? new URL(`http://[${name}]`).hostname.slice(1, -1) : name;
  });
}

/** `YYYY-MM-DD`, by UTC. */
export function dayOf(instant: Date): string {
  return instant.toISOString().slice(0, 10);
}

function readText(path: string): Read<string> {
  try {
    return { ok: true, value: readFileSync(path, 'utf8') };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    return refuse(code === 'ENOENT' ? `There is no file ${path}.` : `${path} cannot be read (${code}).`);
  }
}

function parse<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}
