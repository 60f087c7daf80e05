import { randomBytes } from 'node:crypto';
import { mkdirSync, type ReadStream, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { Injectable } from '@nestjs/common';
import { Config } from '../../platform/config/config.js';
import { RefusalError } from '../../platform/refusal.js';
import type { PictureKind } from './picture-kind.js';

/** How a kept file is named behind its content, so that a person who finds it can open it. */
const endings: Record<PictureKind, string> = { jpeg: 'jpg', png: 'png', webp: 'webp' };
export const mediaTypes: Record<PictureKind, string> = { jpeg: 'image/jpeg', png: 'image/png', webp: 'image/webp' };
const kindOfType = new Map(Object.entries(mediaTypes).map(([kind, type]) => [type, kind as PictureKind]));

const arriving = 'arriving';
/** What a broken server left under a name of its own, in milliseconds of age. */
const dayMilliseconds = 86_400_000;

/** A file of a photograph by its content. */
export interface KeptFile {
  /** in hexadecimal */
  sha256: string;
  mediaType: string;
}

/**
 * Makes the folder of photographs ready at a start.
 * @throws Error in words where it cannot be written, or would be served to everybody with the web app
 */
export function readyPhotographFolder(folder: string, webFolder: string | null): void {
  try {
    mkdirSync(join(folder, arriving), { recursive: true });
    const trial = join(folder, arriving, `${randomBytes(8).toString('hex')}.trial`);
    writeFileSync(trial, 'A server tried whether it may write here.\n');
    rmSync(trial);
  } catch (error) {
    throw new Error(
      `Photographs cannot be kept in ${folder}: ${(error as Error).message}. Name a folder that the server may write in: --photographs FOLDER.`,
    );
  }
  if (webFolder !== null && isWithin(realpathSync(folder), realpathSync(webFolder)))
    throw new Error(
      `${folder} is within the folder that is given to every browser. Photographs are for those who are signed in: name another folder with --photographs.`,
    );
}

function isWithin(folder: string, other: string): boolean {
  const way = relative(other, folder);
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`));
}

/**
 * Where photographs lie: each file under the SHA-256 of its content, so that none is ever changed and the same one lies there once;
 * and what is still arriving. Servers on one database share it.
 */
@Injectable()
export class PhotographFolder {
  readonly arriving: string;

  constructor(private readonly config: Config) {
    this.arriving = join(this.root, arriving);
  }

  private get root(): string {
    return this.config.photographs.folder;
  }

  /** Made where it is missing: it may lie on a disk that came later. */
  async ready(): Promise<void> {
    await mkdir(this.arriving, { recursive: true });
  }

  nameOf({ sha256, mediaType }: KeptFile): string {
    return `${sha256}.${endings[kindOfType.get(mediaType) ?? 'jpeg']}`;
  }

  private pathOf(file: KeptFile): string {
    return join(this.root, file.sha256.slice(0, 2), this.nameOf(file));
  }

  /** Keeps a file that was written through to the disk, under the name of its content; it is gone from where it was. */
  async keep(path: string, file: KeptFile): Promise<void> {
    const target = this.pathOf(file);
    const folder = join(this.root, file.sha256.slice(0, 2));
    await mkdir(folder, { recursive: true });
    await rename(path, target);
    await syncFolder(folder);
  }

  /** A file that is being written here, to be kept. */
  async write(content: Buffer, file: KeptFile): Promise<void> {
    const path = join(this.arriving, `${randomBytes(12).toString('hex')}.part`);
    const handle = await open(path, 'wx', 0o640);
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await this.keep(path, file);
  }

  /** @throws RefusalError where this server cannot see the file */
  async read(file: KeptFile): Promise<{ stream: ReadStream; bytes: number }> {
    try {
      const handle = await open(this.pathOf(file), 'r');
      const { size } = await handle.stat();
      return { stream: handle.createReadStream(), bytes: size };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw notSeen();
      throw error;
    }
  }

  /** Removes what began to arrive and was given up. @returns how many files */
  async sweep(olderThanDays: number, now: number): Promise<number> {
    let swept = 0;
    for (const name of await readdir(this.arriving)) {
      const path = join(this.arriving, name);
      const facts = await stat(path).catch(() => null);
      if (facts === null || now - facts.mtimeMs < olderThanDays * dayMilliseconds) continue;
      await rm(path, { force: true });
      swept += 1;
    }
    return swept;
  }
}

/** A name in a folder is as lasting as the folder. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null);
  if (handle === null) return;
  try {
    await handle.sync();
  } catch {
    // Some systems know no such thing; the file itself was written through.
  } finally {
    await handle.close();
  }
}

function notSeen(): RefusalError {
  return new RefusalError({
    status: 503,
    code: 'photograph-not-seen',
    title: 'The file cannot be seen from here',
    detail:
      'The photograph is in the books, but its file is not in the folder of photographs that this server uses. Tell whoever looks after the server: all servers of a workshop need the same folder.',
  });
}

/** What the disk says when it is full, in words. */
export function troubleOfDisk(error: unknown): unknown {
  const code = (error as NodeJS.ErrnoException).code;
  if (code !== 'ENOSPC' && code !== 'EDQUOT') return error;
  return new RefusalError({
    status: 507,
    code: 'disk-full',
    title: 'No room for photographs',
    detail: 'The disk that holds the photographs is full. Nothing was lost: free space, then it is sent again by itself.',
  });
}
