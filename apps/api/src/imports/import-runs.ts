import type { ImportFile, ImportUnderWay } from '@corewright/contracts/imports';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { NewsRelay } from '../platform/news/news-relay.js';
import { done, type Refusal, RefusalError, type Result, refused } from '../platform/refusal.js';

/** Whoever watches sees it move, and the rows are not held up by telling. */
const tellMilliseconds = 400;

/** The lock of an import under way; it goes with its transaction, whatever becomes of the server. */
const takeLock = 'SELECT pg_try_advisory_xact_lock(1764061200, 11) AS taken';
const lockIsHeld = `
  EXISTS (SELECT FROM pg_locks WHERE locktype = 'advisory' AND granted AND classid = 1764061200 AND objid = 11 AND objsubid = 2
             AND database = (SELECT oid FROM pg_database WHERE datname = current_database()))`;

const forgetRuns = 'DELETE FROM import_runs';
const insertRun = 'INSERT INTO import_runs (key, person_id, is_trial, bytes_total) VALUES ($1, $2, $3, $4)';
const tellRun = `
  UPDATE import_runs SET file = $2, rows_read = $3, bytes_read = $4 WHERE key = $1
  RETURNING stop_asked_at IS NOT NULL AS "isStopping"`;
const endRun = 'DELETE FROM import_runs WHERE key = $1 RETURNING stop_asked_at IS NOT NULL AS "isStopping"';
const askToStop = `UPDATE import_runs SET stop_asked_at = coalesce(stop_asked_at, clock_timestamp()) WHERE key = $1 AND ${lockIsHeld} RETURNING 1 AS there`;
const selectRun = `
  SELECT key AS id, display_name AS by, is_trial AS "isTrial", began_at AS "beganAt", file, rows_read AS rows, bytes_read AS "bytesRead",
         bytes_total AS "bytesTotal", stop_asked_at IS NOT NULL AS "isStopping"
    FROM import_runs JOIN people ON people.id = person_id WHERE ${lockIsHeld}`;

type UnderWay = NonNullable<ImportUnderWay['underWay']>;

/**
 * Imports under way, of which there is one at a time. How far it has come, and that it is to stop, stand in a row that is written
 * beside the import's transaction: any server answers for it, whichever is at work. That it is under way at all is told by a lock
 * of that transaction, so a server that dies leaves no import behind that seems to go on.
 */
@Injectable()
export class ImportRuns {
  constructor(
    private readonly database: Database,
    private readonly relay: NewsRelay,
  ) {}

  /** @throws RefusalError where another import is under way: waiting would hold a connection, and nobody would know for what */
  async begin(transaction: Transaction, isTrial: boolean, bytesTotal: number): Promise<ImportRun> {
    const lock = await transaction.row<{ taken: boolean }>(takeLock);
    if (!lock?.taken) throw new RefusalError(anotherUnderWay(await this.underWay()));
    const { key, person } = transaction.command;
    await this.database.rows(forgetRuns);
    await this.database.rows(insertRun, [key, person.id, isTrial, bytesTotal]);
    await this.relay.tell('imports');
    return new ImportRun(this.database, this.relay, key);
  }

  underWay(): Promise<UnderWay | null> {
    return this.database.row<UnderWay>(selectRun);
  }

  /** Asks the server that is at work to stop; until it has, the import is still under way. */
  async stop(transaction: Transaction, id: string): Promise<Result<ImportUnderWay>> {
    if (!(await transaction.row(askToStop, [id]))) return refused(ended);
    transaction.news('imports');
    return done({ underWay: await transaction.row<UnderWay>(selectRun) });
  }
}

/** The import that this server is at work on. */
export class ImportRun {
  private file: ImportFile | '' = '';
  private rows = 0;
  private bytes = 0;
  private toldAt = performance.now();

  constructor(
    private readonly database: Database,
    private readonly relay: NewsRelay,
    private readonly key: string,
  ) {}

  /** It is read from the start, and what was counted before counts no more. */
  restart(): void {
    this.rows = 0;
    this.bytes = 0;
  }

  readBytes(count: number): void {
    this.bytes += count;
  }

  /** Another row is read. @throws RefusalError once somebody has asked to stop, and with it goes all that was read */
  async readRow(file: ImportFile): Promise<void> {
    this.file = file;
    this.rows += 1;
    if (performance.now() - this.toldAt < tellMilliseconds) return;
    this.toldAt = performance.now();
    refuseIfStopping(await this.database.row<{ isStopping: boolean }>(tellRun, [this.key, this.file, this.rows, this.bytes]));
  }

  /** Whoever asked to stop before this has stopped it. @throws RefusalError then */
  async end(): Promise<void> {
    const row = await this.database.row<{ isStopping: boolean }>(endRun, [this.key]);
    await this.relay.tell('imports');
    refuseIfStopping(row);
  }
}

function refuseIfStopping(row: { isStopping: boolean } | null): void {
  if (row?.isStopping) throw new RefusalError(stopped);
}

const stopped: Refusal = {
  status: 409,
  code: 'import-stopped',
  title: 'Stopped',
  detail: 'The import was stopped. Nothing of it was brought in; it can be brought in anew.',
};

const ended: Refusal = {
  status: 409,
  code: 'import-ended',
  title: 'Ended already',
  detail: 'This import is not under way any more, so there is nothing to stop. Its report says what became of it.',
};

function anotherUnderWay(other: UnderWay | null): Refusal {
  const whose =
    other === null ? 'Another import is' : `${other.by} is ${other.isTrial ? 'trying files' : 'bringing files in'}, which is`;
  return {
    status: 409,
    code: 'import-under-way',
    title: 'One at a time',
    detail: `${whose} under way, and nothing of yours was read. Wait until it has ended, or stop it, and then send your files again.`,
  };
}
