import { randomUUID } from 'node:crypto';
import type { NextFunction, Request, Response } from 'express';
import type { Log } from '../log.js';

/** Gives each request a number that its log lines and its problem document share. Bodies, cookies and queries stay out. */
export function requestLog(log: Log) {
  return (request: Request & { correlationId?: string }, response: Response, next: NextFunction): void => {
    const started = performance.now();
    request.correlationId = randomUUID();
    response.setHeader('x-correlation-id', request.correlationId);
    response.once('finish', () => {
      if (!request.path.startsWith('/api')) return;
      const facts = {
        correlationId: request.correlationId,
        method: request.method,
        path: request.path,
        status: response.statusCode,
        milliseconds: Math.round(performance.now() - started),
      };
      if (response.statusCode >= 500) log.warn(facts, 'request failed');
      else log.fine(facts, 'answered');
    });
    next();
  };
}
