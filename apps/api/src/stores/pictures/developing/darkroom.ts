import { type ChildProcess, fork } from 'node:child_process';
import { constants, setPriority } from 'node:os';
import { join } from 'node:path';
import { type BeforeApplicationShutdown, Injectable } from '@nestjs/common';
import { Log } from '../../../platform/log.js';
import { RefusalError, type Result, refused } from '../../../platform/refusal.js';
import type { Developed } from './develop.js';
import type { DevelopAnswer, DevelopOrder } from './orders.js';

/** The largest that is taken needs a second or two, and a busy machine some more. */
const millisecondsMax = 60_000;
const memoryMegabytes = 512;

const program = join(import.meta.dirname, 'develop-child.js');

class ChildEnded extends Error {}
class ChildOverdue extends Error {}

/**
 * Develops pictures one at a time in a process of the lowest priority, so that scans go before. A process that dies or does not
 * answer is replaced.
 */
@Injectable()
export class Darkroom implements BeforeApplicationShutdown {
  private child: ChildProcess | null = null;
  private last: Promise<unknown> = Promise.resolve();
  private number = 0;

  constructor(private readonly log: Log) {}

  /**
   * Cleans a picture of this content and makes its sizes, as files in a folder.
   * @throws RefusalError where it took too long; the sender may try again
   * @throws Error with the code of the disk's trouble
   */
  develop(source: string, sha256: string, into: string): Promise<Result<Developed>> {
    const mine = this.last.then(() => this.twice({ source, sha256, into }));
    this.last = mine.catch(() => undefined);
    return mine;
  }

  /** Of the process that develops; null before the first picture. */
  get processId(): number | null {
    return this.child?.pid ?? null;
  }

  async beforeApplicationShutdown(): Promise<void> {
    this.drop();
  }

  /** The process may have died of something else; a picture at which it dies a second time is to blame. */
  private async twice(order: Omit<DevelopOrder, 'number'>): Promise<Result<Developed>> {
    for (const isLast of [false, true]) {
      try {
        return await this.once(order);
      } catch (error) {
        if (error instanceof ChildOverdue) throw tookTooLong();
        if (!(error instanceof ChildEnded)) throw error;
        this.log.warn({ source: order.source, reason: error.message }, 'the process that makes pictures ended');
        if (isLast) return refused(unreadable);
      }
    }
    return refused(unreadable);
  }

  private async once(order: Omit<DevelopOrder, 'number'>): Promise<Result<Developed>> {
    this.number += 1;
    const answer = await this.ask({ ...order, number: this.number });
    if ('result' in answer) return answer.result;
    throw Object.assign(new Error(answer.trouble.message), { code: answer.trouble.code ?? undefined });
  }

  private ask(order: DevelopOrder): Promise<DevelopAnswer> {
    const child = this.running();
    return new Promise((settle, fail) => {
      const overdue = setTimeout(() => end(() => fail(new ChildOverdue())), millisecondsMax);
      const answered = (answer: DevelopAnswer): void => {
        if (answer.number === order.number) forget(() => settle(answer));
      };
      const gone = (code: number | null, signal: string | null): void =>
        end(() => fail(new ChildEnded(`it ended with ${signal ?? code}`)));
      const forget = (then: () => void): void => {
        clearTimeout(overdue);
        child.off('message', answered).off('exit', gone);
        then();
      };
      const end = (then: () => void): void => {
        if (this.child === child) this.drop();
        forget(then);
      };
      child.on('message', answered).on('exit', gone);
      child.send(order, (error) => {
        if (error !== null) end(() => fail(new ChildEnded(error.message)));
      });
    });
  }

  private running(): ChildProcess {
    if (this.child?.connected && this.child.exitCode === null) return this.child;
    const child = fork(program, [], {
      execArgv: [`--max-old-space-size=${memoryMegabytes}`],
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    child.on('error', (error) => this.log.warn({ error: error.message }, 'the process that makes pictures has a trouble'));
    this.child = child;
    if (child.pid !== undefined) putBehind(child.pid);
    // It holds up nobody's end.
    child.unref();
    child.channel?.unref();
    return child;
  }

  private drop(): void {
    this.child?.kill('SIGKILL');
    this.child = null;
  }
}

function putBehind(pid: number): void {
  try {
    setPriority(pid, constants.priority.PRIORITY_LOW);
  } catch {
    // A system that does not let us is still served, one picture at a time.
  }
}

const unreadable = {
  status: 422,
  code: 'picture-damaged',
  title: 'The picture cannot be read',
  detail:
    'Whatever reads pictures here breaks off at this one. Take the photograph again, or make a JPEG of it elsewhere and send that.',
};

function tookTooLong(): RefusalError {
  return new RefusalError({
    status: 503,
    code: 'picture-took-too-long',
    title: 'No time for the picture',
    detail: 'The server did not get round to this picture. Nothing was kept; it is sent again by itself, or send it again.',
  });
}
