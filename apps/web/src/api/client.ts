import type * as z from 'zod';
import { deviceId } from './device.js';
import { network } from './network.js';
import { noAnswer, oddAnswer, problemFrom } from './problem.js';
import { newKey } from './uuid.js';

export type Method = 'POST' | 'PUT' | 'PATCH' | 'DELETE';
export type Tagged<T> = { readonly value: T; readonly etag: string | null };
export type SendOptions = {
  /** the command's Idempotency-Key; give the same one again when you try again */
  readonly key?: string;
  /** the version that the person saw (an ETag): a newer one is refused with 412 */
  readonly ifMatch?: string;
  /** when the command was made, if not now */
  readonly madeAt?: string;
  readonly signal?: AbortSignal;
};

let whenSignedOut: (() => void) | null = null;

/** The router says here how a 401 leads to the sign-in page. */
export function onSignedOut(handler: () => void): void {
  whenSignedOut = handler;
}

/** What was sent and what came back, before anyone judges it. Throws only when no answer came. */
export async function exchange(
  method: 'GET' | Method,
  path: string,
  init: { headers?: Record<string, string>; body?: BodyInit; signal?: AbortSignal | undefined },
): Promise<Response> {
  try {
    const response = await fetch(path, {
      method,
      headers: { Accept: 'application/json, application/problem+json', ...init.headers },
      credentials: 'same-origin',
      cache: 'no-store',
      ...(init.body === undefined ? {} : { body: init.body }),
      ...(init.signal === undefined ? {} : { signal: init.signal }),
    });
    // a proxy that lost its server answers in its place
    if (response.status === 502 || response.status === 504) network.silent();
    else network.answered();
    return response;
  } catch (thrown) {
    if (init.signal?.aborted === true) throw thrown;
    network.silent();
    throw noAnswer();
  }
}

/** JSON where there is any; `null` for an empty or unreadable body. */
export async function bodyOf(response: Response): Promise<unknown> {
  const text = await response.text();
  if (text === '') return null;
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

async function read<T>(schema: z.ZodType<T>, path: string, response: Response): Promise<Tagged<T>> {
  const body = await bodyOf(response);
  if (!response.ok) {
    if (response.status === 401) whenSignedOut?.();
    throw problemFrom(response.status, body);
  }
  const parsed = schema.safeParse(body);
  if (!parsed.success) {
    console.error('An answer does not keep to its contract', path, parsed.error.issues);
    throw oddAnswer(path);
  }
  return { value: parsed.data, etag: response.headers.get('ETag') };
}

/** The headers that make a write a command: its key, its device, the instant it was made. */
export function commandHeaders(key: string, madeAt: string, ifMatch?: string): Record<string, string> {
  return {
    'Idempotency-Key': key,
    'X-Device-Id': deviceId(),
    'X-Made-At': madeAt,
    ...(ifMatch === undefined ? {} : { 'If-Match': ifMatch }),
  };
}

/** Files by their field: unlike a form they can be kept in the browser's store until they are sent. */
export type Files = ReadonlyMap<string, Blob>;

function formOf(files: Files): FormData {
  const form = new FormData();
  for (const [field, file] of files) form.append(field, file, field);
  return form;
}

/** A body as the wire wants it: a photograph or files go as they are, everything else as JSON. */
export function encodeBody(body: unknown): { headers: Record<string, string>; body?: BodyInit } {
  if (body === undefined) return { headers: {} };
  // the browser names the boundary between the files itself
  if (body instanceof FormData) return { headers: {}, body };
  if (body instanceof Blob) return { headers: { 'Content-Type': 'application/x-tar' }, body };
  if (body instanceof Map) return { headers: {}, body: formOf(body as Files) };
  return { headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) };
}

async function getTagged<T>(schema: z.ZodType<T>, path: string, options: { signal?: AbortSignal } = {}): Promise<Tagged<T>> {
  return read(schema, path, await exchange('GET', path, { signal: options.signal }));
}

async function sendTagged<T>(
  schema: z.ZodType<T>,
  method: Method,
  path: string,
  body: unknown,
  options: SendOptions = {},
): Promise<Tagged<T>> {
  const encoded = encodeBody(body);
  const headers = {
    ...encoded.headers,
    ...commandHeaders(options.key ?? newKey(), options.madeAt ?? new Date().toISOString(), options.ifMatch),
  };
  return read(
    schema,
    path,
    await exchange(method, path, {
      headers,
      signal: options.signal,
      ...(encoded.body === undefined ? {} : { body: encoded.body }),
    }),
  );
}

/** The one way to the server. Answers are parsed by their contract; every refusal and silence is an `ApiProblem`. */
export const api = {
  getTagged,
  sendTagged,
  async get<T>(schema: z.ZodType<T>, path: string, options: { signal?: AbortSignal } = {}): Promise<T> {
    return (await getTagged(schema, path, options)).value;
  },
  async send<T>(schema: z.ZodType<T>, method: Method, path: string, body: unknown, options: SendOptions = {}): Promise<T> {
    return (await sendTagged(schema, method, path, body, options)).value;
  },
};
