import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { ArchiveReport } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import type { Request } from 'express';
import { extract, type Header } from 'tar-stream';
import type { Command } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Config } from '../../platform/config/config.js';
import { Database } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { RefusalError, type Result } from '../../platform/refusal.js';
import { ChangePictureHandler } from '../../stores/pictures/change-picture.handler.js';
import { KeepPictureHandler } from '../../stores/pictures/keep-picture.handler.js';
import { PhotographFolder, troubleOfDisk } from '../../stores/pictures/photograph-folder.js';
import { type ReadyPicture, Reception } from '../../stores/pictures/reception.js';
import { type ArchiveFault, type ArchiveRow, archiveRowsOf } from './archive-rows.js';
import { subjectOf } from './subject-of-row.js';

const listName = 'photographs.csv';
const listMegabytesMax = 64;
const megabyte = 1024 * 1024;
const faultsShown = 500;

const selectPerson = 'SELECT id FROM people WHERE lower(sign_in_name) = lower($1)';

/** What is being brought in, and what came of it so far. */
interface Bringing {
  command: Command;
  rows: Map<string, ArchiveRow[]>;
  kept: number;
  unchanged: number;
  faults: ArchiveFault[];
}

/**
 * Brings an archive of photographs in, each in a command of its own: what breaks off is brought in again, and what is there is
 * known by its id. The archive is on the disk first, and of it one file at a time.
 */
@Injectable()
export class ArchiveIn {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly reception: Reception,
    private readonly folder: PhotographFolder,
    private readonly config: Config,
    private readonly keepPicture: KeepPictureHandler,
    private readonly changePicture: ChangePictureHandler,
  ) {}

  /** @throws RefusalError where it is no archive of photographs */
  async bringIn(command: Command, request: Request): Promise<ArchiveReport> {
    await this.folder.ready();
    const path = join(this.folder.arriving, `${command.person.id}.${newId()}.tar`);
    try {
      await pipeline(request, createWriteStream(path, { flags: 'wx', mode: 0o640 }));
      return await this.read(command, path);
    } catch (error) {
      throw troubleOfDisk(error);
    } finally {
      await rm(path, { force: true });
    }
  }

  private async read(command: Command, path: string): Promise<ArchiveReport> {
    const bringing: Bringing = { command, rows: new Map(), kept: 0, unchanged: 0, faults: [] };
    let isFirst = true;
    const entries = extract();
    const source = createReadStream(path);
    source.on('error', (error) => entries.destroy(error)).pipe(entries);
    try {
      for await (const entry of entries) {
        if (isFirst && entry.header.name !== listName) throw notAnArchive();
        if (isFirst) await this.readList(bringing, entry);
        else await this.takeFile(bringing, entry.header, entry);
        isFirst = false;
        entry.resume();
      }
    } catch (error) {
      if (error instanceof RefusalError || (error as NodeJS.ErrnoException).code === 'ENOSPC') throw error;
      if (isFirst || /tar|header|unexpected end/i.test((error as Error).message)) throw notAnArchive();
      throw error;
    } finally {
      source.destroy();
    }
    if (isFirst) throw notAnArchive();
    for (const [file, rows] of bringing.rows)
      for (const { line } of rows) bringing.faults.push({ line, words: `The file ${file} is not in the archive.` });
    const { kept, unchanged, faults } = bringing;
    faults.sort((one, other) => one.line - other.line);
    return { kept, unchanged, faults: faults.slice(0, faultsShown), faultsTotal: faults.length };
  }

  private async readList(bringing: Bringing, list: AsyncIterable<unknown>): Promise<void> {
    const pieces: Buffer[] = [];
    let bytes = 0;
    for await (const chunk of list) {
      const piece = chunk as Buffer;
      bytes += piece.length;
      if (bytes > listMegabytesMax * megabyte) throw notAnArchive();
      pieces.push(piece);
    }
    const { rows, faults } = archiveRowsOf(Buffer.concat(pieces));
    bringing.faults.push(...faults);
    for (const row of rows) bringing.rows.set(row.file, [...(bringing.rows.get(row.file) ?? []), row]);
  }

  /** A file that no row names is passed over. */
  private async takeFile(bringing: Bringing, { name, size }: Header, content: AsyncIterable<unknown>): Promise<void> {
    const file = name.replace(/^photographs\//, '');
    const rows = bringing.rows.get(file);
    if (rows === undefined) return;
    bringing.rows.delete(file);
    const wanted: ArchiveRow[] = [];
    for (const row of rows) {
      if (await this.reception.isKept(row.id)) bringing.unchanged += 1;
      else wanted.push(row);
    }
    if (wanted.length === 0) return;
    const path = join(this.folder.arriving, `${bringing.command.person.id}.${newId()}`);
    const failAll = (words: string): void => void bringing.faults.push(...wanted.map(({ line }) => ({ line, words })));
    const { megabytesMax } = this.config.photographs;
    if (size > megabytesMax * megabyte) return failAll(`The file ${file} has more than ${megabytesMax} megabytes.`);
    try {
      const { bytes, sha256 } = await this.spool(content, path);
      if (!file.startsWith(sha256)) return failAll(`The file ${file} is not what it was when the archive was made.`);
      const ready = await this.reception.develop(path, sha256);
      if (!ready.ok) return failAll(ready.error.detail);
      for (const row of wanted) await this.keep(bringing, row, ready.value, { bytes, sha256 });
    } finally {
      await rm(path, { force: true });
    }
  }

  private async spool(content: AsyncIterable<unknown>, path: string): Promise<{ bytes: number; sha256: string }> {
    const hash = createHash('sha256');
    let bytes = 0;
    const counted = async function* (): AsyncGenerator<Buffer> {
      for await (const chunk of content) {
        const piece = chunk as Buffer;
        bytes += piece.length;
        hash.update(piece);
        yield piece;
      }
    };
    await pipeline(counted, createWriteStream(path, { flags: 'wx', mode: 0o640 }));
    return { bytes, sha256: hash.digest('hex') };
  }

  private async keep(
    bringing: Bringing,
    row: ArchiveRow,
    ready: ReadyPicture,
    file: { bytes: number; sha256: string },
  ): Promise<void> {
    const subjectId = await subjectOf(this.database, row);
    if (subjectId === null) {
      bringing.faults.push({
        line: row.line,
        words: `The ${row.of} "${row.reference}" is not in the books. Bring it in first, then this archive again.`,
      });
      return;
    }
    const taker = await this.database.row<{ id: string }>(selectPerson, [row.taken_by]);
    const asked = { id: row.id, subjectId, ...file, ofMarks: false, words: row.words, fileDate: null };
    const before = { personId: taker?.id ?? null, takenAt: row.taken_at, shows: row.shows };
    try {
      await this.unitOfWork.run({ ...bringing.command, key: newId() }, async (transaction): Promise<Result<unknown>> => {
        const kept = await this.keepPicture.handle(transaction, asked, ready, before);
        if (!kept.ok || row.struck_out === '') return kept;
        return this.changePicture.strike(transaction, row.id, row.struck_out);
      });
      bringing.kept += 1;
    } catch (error) {
      if (!(error instanceof RefusalError)) throw error;
      bringing.faults.push({ line: row.line, words: error.refusal.detail });
    }
  }
}

function notAnArchive(): RefusalError {
  return new RefusalError({
    status: 422,
    code: 'not-an-archive',
    title: 'No archive of photographs',
    detail:
      'This is not an archive (tar) as it is taken out here, with photographs.csv at its beginning. What had been kept of it stays.',
  });
}
