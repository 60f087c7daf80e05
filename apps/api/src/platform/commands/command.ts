import { createHash } from 'node:crypto';
import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { Request } from 'express';
import type { SignedIn } from '../access/signed-in.js';
import { RefusalError } from '../refusal.js';

/** One change that somebody asks for: who, with what, when, and the key that makes it count once. */
export interface Command {
  key: string;
  person: SignedIn;
  deviceId: string | null;
  /** when the person made it, by their device's clock; it may have waited for the network */
  madeAt: string | null;
  route: string;
  requestHash: Buffer;
  /** the version that the person saw, from If-Match */
  versionSeen: number | null;
}

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/i;

/** The command of a request, for a handler's parameter. @throws RefusalError without a usable Idempotency-Key */
export const Issued = createParamDecorator(
  (_: unknown, context: ExecutionContext): Command => commandOf(context.switchToHttp().getRequest<Request>()),
);

export function commandOf(request: Request): Command {
  const key = request.header('idempotency-key') ?? '';
  if (!uuid.test(key))
    throw new RefusalError({
      status: 400,
      code: 'key-missing',
      title: 'No key',
      detail:
        'A change needs the header Idempotency-Key with a UUID made by the client, so that it counts once however often it is sent.',
    });
  const person = (request as Request & { person?: SignedIn }).person;
  if (!person) throw new Error('A command reached its handler without a person');
  const route = `${request.method} ${request.path}${queryOf(request)}`;
  return {
    key: key.toLowerCase(),
    person,
    deviceId: request.header('x-device-id')?.slice(0, 100) ?? null,
    madeAt: instantOf(request.header('x-made-at')),
    route,
    requestHash: hashOf(route, request),
    versionSeen: versionOf(request.header('if-match')),
  };
}

function queryOf(request: Request): string {
  const at = request.originalUrl.indexOf('?');
  return at < 0 ? '' : request.originalUrl.slice(at);
}

/** A body that is a file is hashed by whoever reads it: see `withContent`. */
function hashOf(route: string, request: Request): Buffer {
  return createHash('sha256')
    .update(`${route}\n${request.header('if-match') ?? ''}\n${JSON.stringify(request.body ?? null)}`)
    .digest();
}

/** The same command with the bytes of uploaded files taken into its hash. */
export function withContent(command: Command, contents: readonly Buffer[]): Command {
  const hash = createHash('sha256').update(command.requestHash);
  for (const content of contents) hash.update(createHash('sha256').update(content).digest());
  return { ...command, requestHash: hash.digest() };
}

function instantOf(text: string | undefined): string | null {
  if (!text || Number.isNaN(Date.parse(text))) return null;
  return new Date(text).toISOString();
}

function versionOf(header: string | undefined): number | null {
  const match = /^(?:W\/)?"?(\d+)"?$/.exec(header?.trim() ?? '');
  return match ? Number(match[1]) : null;
}
