import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import https from 'node:https';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { jest } from '@jest/globals';
import { makeServerCertificate, namesPermittedBy } from '../../apps/api/src/platform/tls/workshop-authority.js';
import { tokenIn, workshopKeyed } from '../support/bare-server.js';
import { createTestDatabase, type TestDatabase } from '../support/database.js';
import { endAll, newDataFolder, runServerProgram, type ServerProcess, startServerProcess } from '../support/server-process.js';

// A busy machine is slow, not wrong.
jest.setTimeout(120_000);

const name = 'stores.example';
const dayMilliseconds = 86_400_000;

let books: TestDatabase;
let folder: string;
let environment: Record<string, string>;
let said: string;

const inTls = (file: string): string => join(folder, 'tls', file);
const read = (file: string): string => readFileSync(inTls(file), 'utf8');
const modeOf = (file: string): string => (statSync(inTls(file)).mode & 0o777).toString(8);
const certify = (...words: string[]) => runServerProgram(['certificate', '--data', folder, ...words]);

beforeAll(async () => {
  books = await createTestDatabase('tls');
  environment = { DATABASE_URL: books.servingUrl, DATABASE_OWNER_URL: books.ownerUrl };
  folder = newDataFolder();
  const made = await certify('--name', `${name},192.168.1.20`);
  expect(made).toMatchObject({ code: 0 });
  said = made.output;
});
afterAll(async () => {
  await endAll();
  await books.drop();
});

interface Got {
  status: number;
  headers: Record<string, string | string[] | undefined>;
  body: Buffer;
}

interface Asking {
  servername?: string;
  ca?: string | undefined;
  method?: string;
  headers?: Record<string, string>;
  body?: string;
}

/** Asks as a device does that trusts `ca` and has been told that the server is called `servername`. */
function ask(port: number | string, path: string, asking: Asking = {}): Promise<Got> {
  const { servername = name, ca = read('authority.crt'), method = 'GET', body } = asking;
  const headers = { host: `${servername}:${port}`, ...asking.headers };
  return new Promise((settle, fail) => {
    const options = { host: '127.0.0.1', port, path, method, servername, ca, headers, agent: false as const };
    const request = https.request(options, (response) => {
      const pieces: Buffer[] = [];
      response.on('data', (piece: Buffer) => pieces.push(piece));
      response.on('end', () =>
        settle({ status: response.statusCode ?? 0, headers: response.headers, body: Buffer.concat(pieces) }),
      );
    });
    request.on('error', fail);
    request.end(body);
  });
}

const portOf = (server: ServerProcess): string => new URL(server.url).port;

describe('what is made', () => {
  it('lies in a folder that others cannot enter, the keys closed to them', () => {
    expect((statSync(join(folder, 'tls')).mode & 0o777).toString(8)).toBe('700');
    expect([modeOf('authority.key'), modeOf('server.key')]).toEqual(['600', '600']);
  });

  it('is an authority for ten years that is held to the names of this server', () => {
    const authority = new X509Certificate(read('authority.crt'));
    expect(authority.ca).toBe(true);
    expect(authority.verify(authority.publicKey)).toBe(true);
    expect(authority.checkPrivateKey(createPrivateKey(read('authority.key')))).toBe(true);
    expect(authority.publicKey.asymmetricKeyDetails).toMatchObject({ namedCurve: 'prime256v1' });
    expect(new Date(authority.validTo).getUTCFullYear() - new Date().getUTCFullYear()).toBe(10);
    expect(namesPermittedBy(read('authority.crt'))).toEqual([name, '192.168.1.20', 'localhost', '127.0.0.1', '::1']);
  });

  it('is a certificate of the server for 397 days, with this machine among its names', () => {
    const certificate = new X509Certificate(read('server.crt'));
    expect(certificate.ca).toBe(false);
    expect(certificate.verify(new X509Certificate(read('authority.crt')).publicKey)).toBe(true);
    expect(Date.parse(certificate.validTo) - Date.parse(certificate.validFrom)).toBe(397 * dayMilliseconds);
    expect(certificate.checkHost(name)).toBe(name);
    for (const address of ['192.168.1.20', '127.0.0.1', '::1']) expect(certificate.checkIP(address)).toBe(address);
    expect(certificate.checkHost('localhost')).toBe('localhost');
    expect(certificate.checkHost('elsewhere.example')).toBeUndefined();
  });

  it('comes with words for what is left to do', () => {
    expect(said).toContain(`--host 0.0.0.0 --cert ${inTls('server.crt')} --key ${inTls('server.key')}`);
    expect(said).toContain(inTls('authority.crt'));
    expect(said).toContain(`https://${name}:4780/authority.crt`);
    expect(said).toContain(new X509Certificate(read('authority.crt')).fingerprint256);
  });
});

describe('a server with it', () => {
  let server: ServerProcess;
  let port: string;

  beforeAll(async () => {
    server = await startServerProcess(
      ['--data', folder, '--cert', inTls('server.crt'), '--key', inTls('server.key')],
      environment,
    );
    port = portOf(server);
  });

  it('is trusted by who trusts the authority, under each of its names, and told to be asked by HTTPS ever after', async () => {
    for (const servername of [name, 'localhost']) expect((await ask(port, '/api/health', { servername })).status).toBe(200);
    const { headers } = await ask(port, '/api/health');
    expect(headers['strict-transport-security']).toMatch(/^max-age=\d{7,}/);
  });

  it('is trusted under no other name', async () => {
    const answer = ask(port, '/api/health', { servername: 'elsewhere.example' });
    await expect(answer).rejects.toMatchObject({ code: 'ERR_TLS_CERT_ALTNAME_INVALID' });
  });

  it('is trusted by nobody who does not know the authority', async () => {
    const other = newDataFolder();
    await runServerProgram(['certificate', '--data', other, '--name', name]);
    const foreign = readFileSync(join(other, 'tls', 'authority.crt'), 'utf8');
    await expect(ask(port, '/api/health', { ca: foreign })).rejects.toMatchObject({
      code: expect.stringMatching(/^(UNABLE_TO_VERIFY_LEAF_SIGNATURE|UNABLE_TO_GET_ISSUER_CERT_LOCALLY|CERT_SIGNATURE_FAILURE)$/),
    });
  });

  it('gives the certificate of the authority to anyone, as devices know such a file', async () => {
    const got = await ask(port, '/authority.crt');
    expect(got).toMatchObject({ status: 200, headers: { 'content-type': 'application/x-x509-ca-cert' } });
    expect(new X509Certificate(got.body).fingerprint256).toBe(new X509Certificate(read('authority.crt')).fingerprint256);
    expect((await ask(port, '/authority.key')).status).toBe(404);
    expect((await ask(port, '/tls/authority.key')).status).toBe(404);
  });

  it('lets a person in from its own pages, and not from the pages of another site', async () => {
    const body = JSON.stringify({ ...workshopKeyed, token: tokenIn(server.link) });
    const post = (origin: string) =>
      ask(port, '/api/set-up', { method: 'POST', body, headers: { 'content-type': 'application/json', origin } });
    expect((await post('https://elsewhere.example')).status).toBe(403);
    const done = await post(`https://${name}:${port}`);
    expect(done.status).toBe(200);
    expect(done.headers['set-cookie']).toEqual([expect.stringContaining('; Secure; HttpOnly; SameSite=Strict')]);
  });
});

describe('beyond this machine', () => {
  it('the server finds the certificate of its folder by itself, and says so', async () => {
    const server = await startServerProcess(['--data', folder, '--host', '0.0.0.0'], environment);
    expect(server.output()).toContain(`The certificate is ${inTls('server.crt')}, good until `);
    expect(server.output()).toContain(`Corewright answers at https://${name}:${portOf(server)}`);
    expect((await ask(portOf(server), '/api/health')).status).toBe(200);
  });

  it('it does not start without one, and says how to get one', async () => {
    const refused = await runServerProgram(['serve', '--data', newDataFolder(), '--host', '0.0.0.0'], environment);
    expect(refused).toMatchObject({ code: 2, output: expect.stringContaining('npm run certificate -- --name') });
  });

  it.each([
    ['another key', { key: 'authority.key' }, 'is not the one of the certificate'],
    ['no such file', { cert: 'gone.crt' }, 'There is no file'],
    ['a file of another kind', { cert: 'server.key' }, 'holds no certificate'],
    ['a certificate that has ended', { cert: 'old.crt', key: 'old.key' }, 'ended on'],
  ])('it does not start with %s, and says why', async (_, files: { cert?: string; key?: string }, words) => {
    const past = new Date(Date.now() - 400 * dayMilliseconds);
    const old = await makeServerCertificate(authorityOf(), [name], past);
    writeFileSync(inTls('old.crt'), old.cert);
    writeFileSync(inTls('old.key'), old.key);
    const { cert = 'server.crt', key = 'server.key' } = files;
    const refused = await runServerProgram(
      ['serve', '--port', '0', '--data', folder, '--cert', inTls(cert), '--key', inTls(key)],
      environment,
    );
    expect(refused).toMatchObject({ code: 1, output: expect.stringContaining(words) });
  });
});

const authorityOf = () => ({ cert: read('authority.crt'), key: createPrivateKey(read('authority.key')) });

describe('whoever has the key of the authority', () => {
  it('cannot pose as another site with it', async () => {
    const forged = await makeServerCertificate(authorityOf(), ['bank.example'], new Date());
    await withServer(forged, async (port) => {
      await expect(ask(port, '/', { servername: 'bank.example' })).rejects.toThrow(/permitted subtree/);
    });
  });
});

describe('once more', () => {
  it('renews the certificate of the server and keeps the authority, for the same names', async () => {
    const before = { authority: read('authority.crt'), server: read('server.crt') };
    const again = await certify();
    expect(again).toMatchObject({ code: 0, output: expect.not.stringContaining("Made the workshop's own authority") });
    expect(read('authority.crt')).toBe(before.authority);
    const renewed = new X509Certificate(read('server.crt'));
    expect(renewed.serialNumber).not.toBe(new X509Certificate(before.server).serialNumber);
    expect(renewed.subjectAltName).toBe(new X509Certificate(before.server).subjectAltName);
    expect(renewed.checkPrivateKey(createPrivateKey(read('server.key')))).toBe(true);
    expect([modeOf('authority.key'), modeOf('server.key')]).toEqual(['600', '600']);
    const files = { cert: read('server.crt'), key: read('server.key') };
    expect((await withServer(files, (port) => ask(port, '/'))).status).toBe(200);
  });

  it('for a name that the authority was not made for, changes nothing and says what to do', async () => {
    const before = read('server.crt');
    const refused = await certify('--name', 'elsewhere.example');
    expect(refused).toMatchObject({ code: 1, output: expect.stringContaining('cannot vouch for elsewhere.example') });
    expect(read('server.crt')).toBe(before);
  });

  it('without the key of the authority, changes nothing and says what to do', async () => {
    const kept = { server: read('server.crt'), key: read('authority.key') };
    rmSync(inTls('authority.key'));
    const refused = await certify();
    expect(refused).toMatchObject({ code: 1, output: expect.stringContaining('is missing') });
    expect(read('server.crt')).toBe(kept.server);
    writeFileSync(inTls('authority.key'), kept.key, { mode: 0o600 });
    expect(await certify()).toMatchObject({ code: 0 });
  });

  it('without a name, where there was none before, asks for one', async () => {
    const refused = await runServerProgram(['certificate', '--data', newDataFolder()]);
    expect(refused).toMatchObject({ code: 1, output: expect.stringContaining('--name') });
  });

  it('with a name that is none, refuses it', async () => {
    expect(await certify('--name', 'https://stores.example')).toMatchObject({ code: 2 });
  });
});

/** Serves with these files until the work is done. */
async function withServer<T>(files: { cert: string; key: string }, work: (port: number) => Promise<T>): Promise<T> {
  const server = https.createServer(files, (_, response) => response.end('here'));
  await new Promise<void>((settle) => server.listen(0, '127.0.0.1', settle));
  try {
    return await work((server.address() as AddressInfo).port);
  } finally {
    await new Promise((settle) => server.close(settle));
  }
}
