import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { NestExpressApplication } from '@nestjs/platform-express';
import express, { type NextFunction, type Request, type Response } from 'express';
import helmet from 'helmet';
import type { Config } from '../config/config.js';

type WithNonce = Response & { locals: { nonce: string } };

/** Headers against the usual attacks; scripts and styles run by a nonce that is new for each page. */
export function useSecurityHeaders(app: NestExpressApplication, config: Config): void {
  app.use((_request: Request, response: Response, next: NextFunction) => {
    response.locals.nonce = randomBytes(16).toString('base64');
    next();
  });
  const nonce = (_request: unknown, response: unknown): string => `'nonce-${(response as WithNonce).locals.nonce}'`;
  app.use(
    helmet({
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
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
        },
      },
      strictTransportSecurity: config.tls ? undefined : false,
      crossOriginEmbedderPolicy: false,
    }),
  );
}

/** Serves the built web app: its files by their hashed names, and its page for every address that is not the interface's. */
export function useWebApp(app: NestExpressApplication, config: Config): void {
  const folder = config.webFolder;
  const page = folder === null ? null : join(folder, 'index.html');
  if (folder === null || page === null || !existsSync(page)) return;
  const html = readFileSync(page, 'utf8');
  app.use('/assets', express.static(join(folder, 'assets'), { immutable: true, maxAge: '1y', fallthrough: false }));
  app.use(express.static(folder, { index: false, maxAge: '1h' }));
  app.use((request: Request, response: Response, next: NextFunction) => {
    if (request.method !== 'GET' || request.path.startsWith('/api')) return next();
    if (!(request.header('accept') ?? '').includes('text/html')) return next();
    response.setHeader('cache-control', 'no-store');
    response.type('html').send(html.replaceAll('__CSP_NONCE__', String(response.locals.nonce)));
  });
}
