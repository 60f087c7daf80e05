import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { NestExpressApplication } from '@nestjs/platform-express';
import express, { type NextFunction, type Request, type Response } from 'express';
import helmet from 'helmet';
import type { Config } from '../config/config.js';

type WithNonce = Response & { locals: { nonce: string } };

/**
 * Headers against the usual attacks. On a page, scripts and styles run by a nonce that is new for each; an answer of the
 * interface is no page, may load nothing, and is spared that work.
 */
export function useSecurityHeaders(app: NestExpressApplication, config: Config): void {
  const nonce = (_request: unknown, response: unknown): string => `'nonce-${(response as WithNonce).locals.nonce}'`;
  const forPages = helmetWith(config, pagePolicy(nonce));
  const forAnswers = helmetWith(config, { defaultSrc: ["'none'"], frameAncestors: ["'self'"] });
  app.use((request: Request, response: Response, next: NextFunction) => {
    if (isAnswer(request)) return forAnswers(request, response, next);
    response.locals.nonce = randomBytes(16).toString('base64');
    forPages(request, response, next);
  });
}

type Directives = NonNullable<
  Exclude<NonNullable<Parameters<typeof helmet>[0]>['contentSecurityPolicy'], boolean | undefined>['directives']
>;

function helmetWith(config: Config, directives: Directives): ReturnType<typeof helmet> {
  return helmet({
    contentSecurityPolicy: { useDefaults: false, directives },
    strictTransportSecurity: config.tls ? undefined : false,
    crossOriginEmbedderPolicy: false,
  });
}

function pagePolicy(nonce: (request: unknown, response: unknown) => string): Directives {
  return {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'", "'wasm-unsafe-eval'", nonce],
    styleSrc: ["'self'", nonce],
    imgSrc: ["'self'", 'blob:', 'data:'],
    fontSrc: ["'self'"],
    connectSrc: ["'self'"],
    manifestSrc: ["'self'"],
    workerSrc: ["'self'"],
    mediaSrc: ["'self'", 'blob:'],
    frameSrc: ["'self'"],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'self'"],
  };
}

function isAnswer(request: Request): boolean {
  return request.path.startsWith('/api/');
}

/** Serves the built web app: its files by their hashed names, and its page for every address that is not the interface's. */
export function useWebApp(app: NestExpressApplication, config: Config): void {
  const folder = config.webFolder;
  const page = folder === null ? null : join(folder, 'index.html');
  if (folder === null || page === null || !existsSync(page)) return;
  const html = readFileSync(page, 'utf8');
  app.use('/assets', express.static(join(folder, 'assets'), { immutable: true, maxAge: '1y', fallthrough: false }));
  const files = express.static(folder, { index: false, maxAge: '1h' });
  // No answer of the interface is a file: looking for one would cost each scan a walk to the disk.
  app.use((request: Request, response: Response, next: NextFunction) =>
    isAnswer(request) ? next() : files(request, response, next),
  );
  app.use((request: Request, response: Response, next: NextFunction) => {
    if (request.method !== 'GET' || isAnswer(request)) return next();
    if (!(request.header('accept') ?? '').includes('text/html')) return next();
    response.setHeader('cache-control', 'no-store');
    response.type('html').send(html.replaceAll('__CSP_NONCE__', String(response.locals.nonce)));
  });
}
