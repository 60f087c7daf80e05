// The library finds its parts by metadata, which must be there before it.
import 'reflect-metadata';
import { type KeyObject, webcrypto } from 'node:crypto';
import { isIP, isIPv4 } from 'node:net';
import { AsnConvert } from '@peculiar/asn1-schema';
import { GeneralName, GeneralSubtree, GeneralSubtrees, id_ce_nameConstraints, NameConstraints } from '@peculiar/asn1-x509';
import {
  AuthorityKeyIdentifierExtension,
  BasicConstraintsExtension,
  ExtendedKeyUsage,
  ExtendedKeyUsageExtension,
  Extension,
  KeyUsageFlags,
  KeyUsagesExtension,
  PemConverter,
  SubjectAlternativeNameExtension,
  SubjectKeyIdentifierExtension,
  X509Certificate,
  X509CertificateGenerator,
} from '@peculiar/x509';

/** NIST P-256 with SHA-256: what every phone of the last ten years understands. */
const algorithm = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' };

const dayMilliseconds = 86_400_000;
const authorityYears = 10;
/** Some phones refuse a server's certificate of more than 398 days, whoever signed it. */
export const serverDays = 397;
/** Clocks of phones may be behind the server's. */
const slackMilliseconds = 3_600_000;
/** X.520 allows a common name of 64 characters. */
const commonNameLengthMax = 64;

interface MadeCertificate {
  /** both in PEM; the key in PKCS #8 */
  cert: string;
  key: string;
}

/**
 * A new authority of the workshop's own, which can vouch for these names and addresses, and what lies below the names,
 * and for no others (RFC 5280, section 4.2.1.10), so that whoever steals its key cannot pose as another site.
 * @param names as `readHostNames` gives them
 * @param now it is good for ten years from here
 */
export async function makeAuthority(names: readonly string[], now: Date): Promise<MadeCertificate> {
  const keys = await newKeys();
  const notAfter = new Date(now);
  notAfter.setUTCFullYear(notAfter.getUTCFullYear() + authorityYears);
  const title = `Corewright of ${names[0] ?? ''}`.slice(0, commonNameLengthMax);
  const certificate = await X509CertificateGenerator.createSelfSigned({
    // The year tells a second authority from the first in the lists of a phone.
    name: [{ CN: [title] }, { OU: [`Made ${now.toISOString().slice(0, 10)}`] }],
    notBefore: new Date(now.getTime() - slackMilliseconds),
    notAfter,
    signingAlgorithm: algorithm,
    keys,
    extensions: [
      new BasicConstraintsExtension(true, 0, true),
      new KeyUsagesExtension(KeyUsageFlags.keyCertSign | KeyUsageFlags.cRLSign, true),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
      constraintsTo(names),
    ],
  });
  return { cert: certificate.toString('pem'), key: await pemOf(keys.privateKey) };
}

/**
 * A certificate of the server by the authority, good for 397 days, or as long as the authority where that ends before.
 * @param names the names and addresses of the server
 */
export async function makeServerCertificate(
  authority: { cert: string; key: KeyObject },
  names: readonly string[],
  now: Date,
): Promise<MadeCertificate> {
  const issuer = new X509Certificate(authority.cert);
  const keys = await newKeys();
  const signingKey = await webcrypto.subtle.importKey(
    'pkcs8',
    authority.key.export({ type: 'pkcs8', format: 'der' }),
    algorithm,
    false,
    ['sign'],
  );
  const notBefore = new Date(now.getTime() - slackMilliseconds);
  const notAfter = Math.min(notBefore.getTime() + serverDays * dayMilliseconds, issuer.notAfter.getTime());
  const certificate = await X509CertificateGenerator.create({
    // Who it is for stands in the alternative names, the only place where clients look (RFC 9525).
    subject: [{ CN: ['Corewright server'] }],
    issuer: issuer.subjectName,
    notBefore,
    notAfter: new Date(notAfter),
    signingAlgorithm: algorithm,
    publicKey: keys.publicKey,
    signingKey,
    extensions: [
      new BasicConstraintsExtension(false, undefined, true),
      new KeyUsagesExtension(KeyUsageFlags.digitalSignature, true),
      new ExtendedKeyUsageExtension([ExtendedKeyUsage.serverAuth]),
      new SubjectAlternativeNameExtension(
        names.map((value) => ({ type: isIP(value) ? ('ip' as const) : ('dns' as const), value })),
      ),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
      await AuthorityKeyIdentifierExtension.create(issuer.publicKey),
    ],
  });
  return { cert: certificate.toString('pem'), key: await pemOf(keys.privateKey) };
}

/** The names and addresses that an authority may vouch for; null where it is not held to any. */
export function namesPermittedBy(authority: string): string[] | null {
  const extension = new X509Certificate(authority).getExtension(id_ce_nameConstraints);
  const permitted = extension && AsnConvert.parse(extension.value, NameConstraints).permittedSubtrees;
  if (!permitted) return null;
  return permitted.flatMap(({ base }) => base.dNSName ?? base.iPAddress?.replace(/\/(32|128)$/, '') ?? []);
}

function constraintsTo(names: readonly string[]): Extension {
  const permittedSubtrees = new GeneralSubtrees(names.map((name) => new GeneralSubtree({ base: new GeneralName(baseOf(name)) })));
  return new Extension(id_ce_nameConstraints, true, AsnConvert.serialize(new NameConstraints({ permittedSubtrees })));
}

function baseOf(name: string): { iPAddress: string } | { dNSName: string } {
  return isIP(name) ? { iPAddress: `${name}/${isIPv4(name) ? 32 : 128}` } : { dNSName: name };
}

async function newKeys(): Promise<webcrypto.CryptoKeyPair> {
  return (await webcrypto.subtle.generateKey(algorithm, true, ['sign', 'verify'])) as webcrypto.CryptoKeyPair;
}

async function pemOf(key: webcrypto.CryptoKey): Promise<string> {
  return PemConverter.encode(await webcrypto.subtle.exportKey('pkcs8', key), PemConverter.PrivateKeyTag);
}
