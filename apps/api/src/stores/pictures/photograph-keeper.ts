import { createHash } from 'node:crypto';
import { Injectable, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import { inTransaction } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { rowOf, rowsOf } from '../../platform/database/statements.js';
import { Log } from '../../platform/log.js';
import { PhotographFolder } from './photograph-folder.js';

/** What nobody has gone on sending for so long is given up. */
const unfinishedDays = 7;
const sweepMilliseconds = 86_400_000;
const jpeg = 'image/jpeg';

/** One that no other server is moving. */
const lockOld = `
  SELECT id FROM pictures
   WHERE EXISTS (SELECT FROM picture_data WHERE picture_id = pictures.id)
   ORDER BY id LIMIT 1 FOR NO KEY UPDATE SKIP LOCKED`;
const selectOld = 'SELECT size, bytes FROM picture_data WHERE picture_id = $1';
const insertFile = `
  INSERT INTO picture_files (picture_id, size, sha256, media_type, bytes) VALUES ($1, $2, decode($3, 'hex'), $4, $5)
  ON CONFLICT (picture_id, size) DO NOTHING`;
const deleteOld = 'DELETE FROM picture_data WHERE picture_id = $1';

/** Keeps the folder of photographs in order: moves into it what older versions kept in the database, and clears away what never arrived whole. */
@Injectable()
export class PhotographKeeper implements OnApplicationBootstrap, OnModuleDestroy {
  private sweeping: NodeJS.Timeout | null = null;

  constructor(
    private readonly database: Database,
    private readonly folder: PhotographFolder,
    private readonly log: Log,
  ) {}

  async onApplicationBootstrap(): Promise<void> {
    await this.folder.ready();
    let moved = 0;
    while (await this.moveOne()) moved += 1;
    if (moved > 0) this.log.info({ moved }, 'photographs were moved from the database into files');
    await this.sweep();
    this.sweeping = setInterval(() => void this.sweep(), sweepMilliseconds);
    this.sweeping.unref();
  }

  onModuleDestroy(): void {
    if (this.sweeping !== null) clearInterval(this.sweeping);
  }

  /**
   * Moves one photograph. Its files are on the disk before the database lets go of it, so that this may break off anywhere.
   * @returns false where none is left
   */
  private moveOne(): Promise<boolean> {
    return inTransaction(this.database.pool, async (client) => {
      const old = await rowOf<{ id: string }>(client, lockOld, []);
      if (old === null) return false;
      for (const { size, bytes } of await rowsOf<{ size: string; bytes: Buffer }>(client, selectOld, [old.id])) {
        const sha256 = createHash('sha256').update(bytes).digest('hex');
        await this.folder.write(bytes, { sha256, mediaType: jpeg });
        // Nothing larger was kept: what a screen shows is the original from now on, too.
        for (const as of size === 'full' ? ['original', 'full'] : [size])
          await rowsOf(client, insertFile, [old.id, as, sha256, jpeg, bytes.length]);
      }
      await rowsOf(client, deleteOld, [old.id]);
      return true;
    });
  }

  private async sweep(): Promise<void> {
    try {
      const swept = await this.folder.sweep(unfinishedDays, Date.now());
      if (swept > 0) this.log.info({ swept }, 'photographs that never arrived whole were cleared away');
    } catch (error) {
      this.log.warn({ error: (error as Error).message }, 'the folder of photographs could not be swept');
    }
  }
}
