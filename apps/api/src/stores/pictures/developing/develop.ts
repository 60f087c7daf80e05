import { createHash, randomBytes } from 'node:crypto';
import { open, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type Refusal, type Result, refused } from '../../../platform/refusal.js';
import { cleanPicture } from '../cleaning/clean-picture.js';
import type { TakenByCamera } from '../cleaning/exif.js';
import { notWhole } from '../not-whole.js';
import { type PictureKind, pictureKindOf } from '../picture-kind.js';
import { makeSizes, pixelsMax, pointsOf } from './make-sizes.js';

export type FileSize = 'original' | 'full' | 'small';

/** A file that lies under a name of its own until it is kept under that of its content. */
export interface DevelopedFile {
  size: FileSize;
  path: string;
  /** in hexadecimal */
  sha256: string;
  kind: PictureKind;
  bytes: number;
}

export interface Developed {
  width: number;
  height: number;
  taken: TakenByCamera | null;
  files: DevelopedFile[];
}

const damaged: Refusal = {
  status: 422,
  code: 'picture-damaged',
  title: 'The picture cannot be read',
  detail:
    'The file begins like a picture, but the rest of it cannot be read. Take the photograph again, or send the file once more.',
};

const tooManyPoints: Refusal = {
  status: 422,
  code: 'picture-too-large',
  title: 'The picture has too many points',
  detail: `A picture may have ${pixelsMax / 1_000_000} million points at most. Take it at a lower setting, or make a smaller one of it.`,
};

/**
 * Cleans a photograph and makes its sizes, each written through to the disk in a folder.
 * @throws Error where the disk fails; what a file is not is refused, and so is one of another content
 */
export async function develop(source: string, sha256: string, into: string): Promise<Result<Developed>> {
  const upload = await readFile(source);
  if (contentOf(upload) !== sha256) return refused(notWhole(0));
  const kind = pictureKindOf(upload);
  if (!kind.ok) return kind;
  const clean = cleanPicture(kind.value.kind, upload);
  if (clean === null) return refused(damaged);
  const made = await sizesOf(clean.file);
  if (!made.ok) return made;
  const { small, full, width, height } = made.value;
  const files: DevelopedFile[] = [];
  try {
    files.push(await written(into, 'small', 'jpeg', small));
    files.push(await written(into, 'full', 'jpeg', full));
    files.push(await written(into, 'original', kind.value.kind, clean.file));
  } catch (error) {
    await Promise.all(files.map(({ path }) => rm(path, { force: true })));
    throw error;
  }
  return { ok: true, value: { width, height, taken: clean.taken, files } };
}

async function sizesOf(picture: Buffer) {
  try {
    const points = await pointsOf(picture);
    if (points !== null && points > pixelsMax) return refused(tooManyPoints);
    return { ok: true as const, value: await makeSizes(picture) };
  } catch {
    return refused(damaged);
  }
}

async function written(into: string, size: FileSize, kind: PictureKind, content: Buffer): Promise<DevelopedFile> {
  const path = join(into, `${randomBytes(12).toString('hex')}.part`);
  const file = await open(path, 'wx', 0o640);
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
  return { size, path, sha256: contentOf(content), kind, bytes: content.length };
}

function contentOf(file: Buffer): string {
  return createHash('sha256').update(file).digest('hex');
}
