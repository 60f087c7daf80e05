import { existsSync } from 'node:fs';
import { chmod, mkdir, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Paths of a certificate and of its key, both in PEM. */
export interface CertificateFiles {
  cert: string;
  key: string;
}

/** Where the workshop's own certificates lie in its data folder. */
export function tlsFolderOf(dataFolder: string): { folder: string; authority: CertificateFiles; server: CertificateFiles } {
  const folder = join(dataFolder, 'tls');
  const filesOf = (name: string): CertificateFiles => ({ cert: join(folder, `${name}.crt`), key: join(folder, `${name}.key`) });
  return { folder, authority: filesOf('authority'), server: filesOf('server') };
}

/** The certificate that the workshop's own authority gave this server; null where there is none. */
export function ownCertificate(dataFolder: string): CertificateFiles | null {
  const { server } = tlsFolderOf(dataFolder);
  return existsSync(server.cert) && existsSync(server.key) ? server : null;
}

/**
 * Writes a certificate and its key. Each is written beside its place and renamed, the certificate last, so that a
 * certificate that is there was written whole.
 */
export async function writeCertificate(files: CertificateFiles, pem: { cert: string; key: string }): Promise<void> {
  await Promise.all([writeBeside(files.key, pem.key, 0o600), writeBeside(files.cert, pem.cert, 0o644)]);
  await rename(fresh(files.key), files.key);
  await rename(fresh(files.cert), files.cert);
}

/** Makes the folder of the certificates, which only the user of the server can enter. */
export async function makeTlsFolder(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  await chmod(folder, 0o700);
}

async function writeBeside(path: string, text: string, mode: number): Promise<void> {
  await writeFile(fresh(path), text, { mode });
  // What an earlier attempt left there keeps its own mode.
  await chmod(fresh(path), mode);
}

function fresh(path: string): string {
  return `${path}.new`;
}
