import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type EmbeddedPostgres, startEmbeddedPostgres } from '../../apps/api/src/platform/database/embedded-postgres';

/** The folder with the binaries of Postgres 15, the oldest that is supported; null where none are made for this machine. */
export function findPostgresFifteen(): string | null {
  const packageName = `embedded-postgres-15-${process.platform}-${process.arch}`;
  try {
    return join(dirname(createRequire(import.meta.url).resolve(packageName)), '..', 'native');
  } catch {
    return null;
  }
}

/** A fresh server of Postgres 15, without a table in it; `stop()` removes it with all it holds. */
export async function startPostgresFifteen(): Promise<EmbeddedPostgres> {
  const nativeFolder = findPostgresFifteen();
  if (nativeFolder === null) throw new Error(`Postgres 15 is not packaged for ${process.platform} ${process.arch}.`);
  const folder = await mkdtemp(join(tmpdir(), 'corewright-fifteen-'));
  // Postgres may run as another user than this process, and must get in.
  await chmod(folder, 0o755);
  const server = await startEmbeddedPostgres({ folder, nativeFolder, durable: false, log: () => {} });
  const stop = async () => {
    await server.stop();
    for (const each of [dirname(server.dataFolder), folder]) await rm(each, { recursive: true, force: true });
  };
  return Object.assign(Object.create(server) as EmbeddedPostgres, { stop });
}
