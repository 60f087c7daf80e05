import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { type Refusal, RefusalError, type Result } from '../../platform/refusal.js';
import { decideThrottle } from './decide-throttle.js';
import { OneAtATime } from './one-at-a-time.js';
import { type Attempt, recentRefusals, recordAttempt } from './sign-in-attempts.js';

const waitingMax = 40;
const busySeconds = 2;

/**
 * Every way in goes through here: tries come one after another, each is in the audit trail, and who is refused too often
 * waits. With several server processes each has a door of its own, so a name gets at most one more try for each.
 */
@Injectable()
export class FrontDoor {
  private readonly queue = new OneAtATime(waitingMax);

  constructor(private readonly database: Database) {}

  /**
   * @param open tries the key; on success it records the try itself, in the transaction that begins the session
   * @throws RefusalError with what stops the person
   */
  async admit<T>(attempt: Attempt, open: () => Promise<Result<T>>): Promise<T> {
    const turn = this.queue.run(() => this.tryOnce(attempt, open));
    if (turn === null) throw new RefusalError(throttled(busySeconds, 'Many sign in at this moment.'));
    const result = await turn;
    if (!result.ok) throw new RefusalError(result.error);
    return result.value;
  }

  private async tryOnce<T>(attempt: Attempt, open: () => Promise<Result<T>>): Promise<Result<T>> {
    const wait = decideThrottle(await recentRefusals(this.database, attempt));
    if (wait !== null) {
      await recordAttempt(this.database, attempt, 'throttled');
      return { ok: false, error: throttled(wait, 'That was refused too often.') };
    }
    const result = await refusalAsResult(open);
    if (!result.ok) await recordAttempt(this.database, attempt, 'refused');
    return result;
  }
}

/** A refusal thrown to undo a transaction counts as a refusal all the same. */
async function refusalAsResult<T>(open: () => Promise<Result<T>>): Promise<Result<T>> {
  try {
    return await open();
  } catch (error) {
    if (error instanceof RefusalError) return { ok: false, error: error.refusal };
    throw error;
  }
}

function throttled(seconds: number, why: string): Refusal {
  const minutes = Math.ceil(seconds / 60);
  const wait = seconds < 60 ? `${seconds} seconds` : minutes === 1 ? 'a minute' : `${minutes} minutes`;
  return {
    status: 429,
    code: 'throttled',
    title: 'Wait a little',
    detail: `${why} Wait ${wait}, then try once more. An owner of the workshop can make a link for a new pass phrase.`,
    values: { retryAfterSeconds: seconds },
  };
}
