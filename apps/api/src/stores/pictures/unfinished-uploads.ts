import { constants } from 'node:fs';
import { open, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Injectable } from '@nestjs/common';
import { Config } from '../../platform/config/config.js';
import { RefusalError } from '../../platform/refusal.js';
import { PhotographFolder, troubleOfDisk } from './photograph-folder.js';
import { pictureKindOf } from './picture-kind.js';

const megabyte = 1024 * 1024;
/** A picture is known by so many bytes. */
const headBytes = 16;

/** A piece of a photograph, and where in the whole it belongs. */
export interface Piece {
  offset: number;
  bytesTotal: number;
  content: Buffer;
}

/**
 * Photographs of which not all has arrived. What is there of one is its first bytes, so that its length says how far it came. Two who send the
 * same piece at once write the same bytes to the same place.
 */
@Injectable()
export class UnfinishedUploads {
  constructor(
    private readonly folder: PhotographFolder,
    private readonly config: Config,
  ) {}

  /** Nobody can write into what another person sends. */
  pathOf(personId: string, uploadId: string): string {
    return join(this.folder.arriving, `${personId}.${uploadId}`);
  }

  /** How many bytes are there. */
  async received(personId: string, uploadId: string): Promise<number> {
    try {
      return (await stat(this.pathOf(personId, uploadId))).size;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 0;
      throw error;
    }
  }

  /**
   * Takes a piece; one that is there already changes nothing.
   * @returns how many bytes are there now
   * @throws RefusalError where it is too large, no picture, or leaves a gap
   */
  async take(personId: string, uploadId: string, { offset, bytesTotal, content }: Piece): Promise<number> {
    this.refuseTooLarge(Math.max(bytesTotal, offset + content.length));
    if (offset + content.length > bytesTotal) throw gap(0, 'The piece goes beyond the end of the photograph.');
    if (offset === 0) refuseOther(content, bytesTotal);
    const received = await this.received(personId, uploadId);
    if (offset > received) throw gap(received, 'A piece before this one has not arrived.');
    if (offset + content.length <= received) return received;
    try {
      await this.folder.ready();
      // what was swept meanwhile is not begun in its middle
      const how = constants.O_WRONLY | (offset === 0 ? constants.O_CREAT : 0);
      const file = await open(this.pathOf(personId, uploadId), how, 0o640);
      try {
        await file.write(content, 0, content.length, offset);
      } finally {
        await file.close();
      }
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw gap(0, 'What was there of it has been cleared away.');
      throw troubleOfDisk(error);
    }
    return this.received(personId, uploadId);
  }

  async forget(personId: string, uploadId: string): Promise<void> {
    await rm(this.pathOf(personId, uploadId), { force: true });
  }

  /** @throws RefusalError before anything of it is read */
  refuseTooLarge(bytes: number): void {
    const { megabytesMax } = this.config.photographs;
    if (bytes <= megabytesMax * megabyte) return;
    throw new RefusalError({
      status: 413,
      code: 'too-large',
      title: 'Too large',
      detail: `A photograph may have ${megabytesMax} megabytes at most; this one has ${Math.ceil(bytes / megabyte)}. Take it at a lower setting, or make a smaller one of it.`,
    });
  }
}

/** What is no picture is refused at its first piece. */
function refuseOther(content: Buffer, bytesTotal: number): void {
  if (content.length < Math.min(headBytes, bytesTotal)) throw gap(0, 'The first piece is too short to know a picture by.');
  const kind = pictureKindOf(content);
  if (!kind.ok) throw new RefusalError(kind.error);
}

function gap(received: number, words: string): RefusalError {
  return new RefusalError({
    status: 409,
    code: 'piece-out-of-place',
    title: 'The upload goes on elsewhere',
    detail: `${words} Send it from byte ${received} on.`,
    values: { received },
  });
}
