import type { KeepPicture } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import type { TakenByCamera } from './cleaning/exif.js';
import { Darkroom } from './developing/darkroom.js';
import type { Developed, FileSize } from './developing/develop.js';
import { notWhole } from './not-whole.js';
import { type KeptFile, mediaTypes, PhotographFolder, troubleOfDisk } from './photograph-folder.js';
import { PictureSubjects } from './picture-subjects.js';
import { UnfinishedUploads } from './unfinished-uploads.js';

/** A photograph whose files are kept, ready to be written down. */
export interface ReadyPicture {
  width: number;
  height: number;
  taken: TakenByCamera | null;
  files: (KeptFile & { size: FileSize; bytes: number })[];
}

const isThere = 'SELECT 1 AS there FROM pictures WHERE id = $1';

/** Makes of an upload that is whole the files of a photograph, before anything of it stands in the books. */
@Injectable()
export class Reception {
  /** Who sends the same command twice at once waits for one development. */
  private readonly underWay = new Map<string, Promise<Result<ReadyPicture | null>>>();

  constructor(
    private readonly database: Database,
    private readonly uploads: UnfinishedUploads,
    private readonly folder: PhotographFolder,
    private readonly darkroom: Darkroom,
    private readonly subjects: PictureSubjects,
  ) {}

  /**
   * The files of a photograph; null where it stands in the books already.
   * @throws RefusalError where the server has a trouble that passes
   */
  async ready(personId: string, asked: KeepPicture): Promise<Result<ReadyPicture | null>> {
    const upload = `${personId}.${asked.id}`;
    const others = this.underWay.get(upload);
    if (others !== undefined) return others;
    const mine = this.readyOnce(personId, asked);
    this.underWay.set(upload, mine);
    try {
      return await mine;
    } finally {
      this.underWay.delete(upload);
    }
  }

  private async readyOnce(personId: string, asked: KeepPicture): Promise<Result<ReadyPicture | null>> {
    if (await this.isKept(asked.id)) return done(null);
    if ((await this.subjects.find(this.database, asked.subjectId)) === null)
      return refused(notFound('What this is a picture of'));
    const path = this.uploads.pathOf(personId, asked.id);
    try {
      const received = await this.uploads.received(personId, asked.id);
      if (received !== asked.bytes) return await this.unlessKept(asked.id, notWhole(Math.min(received, asked.bytes)));
      const ready = await this.develop(path, asked.sha256);
      if (ready.ok) return ready;
      await this.uploads.forget(personId, asked.id);
      return await this.unlessKept(asked.id, ready.error);
    } catch (error) {
      // another server was quicker and has cleared it away
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return this.unlessKept(asked.id, notWhole(0));
      throw troubleOfDisk(error);
    }
  }

  /** Cleans a file of this content and makes its sizes, and keeps all three under their content. */
  async develop(path: string, sha256: string): Promise<Result<ReadyPicture>> {
    await this.folder.ready();
    const developed = await this.darkroom.develop(path, sha256, this.folder.arriving);
    if (!developed.ok) return developed;
    return done(await this.keep(developed.value));
  }

  private async keep({ width, height, taken, files }: Developed): Promise<ReadyPicture> {
    const kept = files.map(({ size, sha256, kind, bytes }) => ({ size, sha256, bytes, mediaType: mediaTypes[kind] }));
    await Promise.all(files.map((file, index) => this.folder.keep(file.path, kept[index]!)));
    return { width, height, taken, files: kept };
  }

  private async unlessKept(id: string, refusal: Refusal): Promise<Result<ReadyPicture | null>> {
    return (await this.isKept(id)) ? done(null) : refused(refusal);
  }

  async isKept(id: string): Promise<boolean> {
    return (await this.database.row(isThere, [id])) !== null;
  }
}
