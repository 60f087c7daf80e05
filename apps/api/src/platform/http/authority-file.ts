import { X509Certificate } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import type { NestExpressApplication } from '@nestjs/platform-express';
import type { NextFunction, Request, Response } from 'express';
import type { Config } from '../config/config.js';
import { tlsFolderOf } from '../tls/tls-folder.js';

/**
 * Gives out the certificate of the workshop's own authority, where there is one, to anyone: a phone must have it before
 * somebody can sign in there. It holds no secret.
 */
export function useAuthorityFile(app: NestExpressApplication, config: Config): void {
  const path = tlsFolderOf(config.dataFolder).authority.cert;
  app.use('/authority.crt', async (request: Request, response: Response, next: NextFunction) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') return next();
    // Read each time: it may be made while the server runs.
    const text = await readFile(path, 'utf8').catch(() => null);
    if (text === null) return next();
    response.setHeader('cache-control', 'no-store');
    response.setHeader('content-type', 'application/x-x509-ca-cert');
    response.setHeader('content-disposition', 'attachment; filename="authority.crt"');
    response.end(new X509Certificate(text).raw);
  });
}
