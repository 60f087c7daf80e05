import { Injectable, type LoggerService } from '@nestjs/common';
import { type Logger, pino } from 'pino';

/** Structured lines on standard error, so that standard output stays for what a person asked to see. Never a secret. */
@Injectable()
export class Log implements LoggerService {
  private readonly lines: Logger;

  constructor(level: string) {
    this.lines = pino(
      { level, base: null, timestamp: pino.stdTimeFunctions.isoTime },
      pino.destination({ dest: 2, sync: false }),
    );
  }

  info(facts: object, words: string): void {
    this.lines.info(facts, words);
  }

  /** Told at the level `debug` only, and not even put together otherwise. */
  fine(facts: object, words: string): void {
    this.lines.debug(facts, words);
  }

  log(message: unknown, context?: string): void {
    this.lines.debug({ context }, String(message));
  }

  warn(facts: unknown, words?: string): void {
    if (typeof facts === 'object' && facts !== null) this.lines.warn(facts, words);
    else this.lines.warn({ context: words }, String(facts));
  }

  error(facts: unknown, words?: string): void {
    if (typeof facts === 'object' && facts !== null) this.lines.error(facts, words);
    else this.lines.error({ context: words }, String(facts));
  }

  debug(message: unknown, context?: string): void {
    this.lines.trace({ context }, String(message));
  }
}
