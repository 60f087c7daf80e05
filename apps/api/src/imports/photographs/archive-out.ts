import { Readable } from 'node:stream';
import { photographColumns } from '@corewright/contracts/pictures';
import { type Pack, pack } from 'tar-stream';
import { csvOf } from '../../platform/csv/write-csv.js';
import type { Database } from '../../platform/database/database.js';
import { RefusalError } from '../../platform/refusal.js';
import type { PhotographFolder } from '../../stores/pictures/photograph-folder.js';
import { referenceOf } from '../export/exported-files.js';
import { placesTree } from '../places-tree.js';

/**
 * SQL: the thing whose photograph it is. Findings are in no file: of one of a strip-down it is the unit, of one of a count what is in doubt or the
 * place, unless it is a thing of its own by now.
 */
const thingShown = `coalesce(
  (SELECT unit_id FROM strip_findings JOIN strip_downs ON strip_downs.id = strip_down_id WHERE strip_findings.id = pictures.subject_id),
  (SELECT coalesce(thing_id, place_id) FROM count_findings WHERE count_findings.id = pictures.subject_id
      AND NOT EXISTS (SELECT FROM codes WHERE codes.subject_id = count_findings.id)), pictures.subject_id)`;

/** SQL: what a photograph is of, and what that is called in files; needs `shown`. */
const subject = `
  SELECT CASE kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'X' THEN 'unsorted' WHEN 'J' THEN 'job' WHEN 'P' THEN 'place' ELSE 'component' END AS of,
         CASE kind WHEN 'U' THEN ${referenceOf('units', 'shown.id')} WHEN 'L' THEN ${referenceOf('lots', 'shown.id')}
                   WHEN 'X' THEN ${referenceOf('unsorted', 'shown.id')} WHEN 'J' THEN ${referenceOf('jobs', 'shown.id')}
                   WHEN 'P' THEN (SELECT path FROM tree WHERE tree.holder_id = shown.id) ELSE shown.id::text END AS reference
    FROM codes WHERE codes.subject_id = shown.id
   UNION ALL SELECT 'sign', concat(reference, ' ', number) FROM unit_type_signs JOIN unit_types ON unit_types.id = unit_type_id
              WHERE unit_type_signs.id = pictures.subject_id LIMIT 1`;

/** SQL: the name of a file in the archive; needs `picture_files`. */
const fileName = `encode(sha256, 'hex') || '.' || CASE picture_files.media_type WHEN 'image/png' THEN 'png' WHEN 'image/webp' THEN 'webp' ELSE 'jpg' END`;

const selectRows = `
  ${placesTree}
  SELECT pictures.id::text, ${fileName}, subject.of, subject.reference, shows, pictures.words,
         to_char(taken_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), coalesce(sign_in_name, ''), coalesce(why, '')
    FROM pictures JOIN picture_files ON picture_files.picture_id = pictures.id AND size = 'original'
    JOIN LATERAL (SELECT ${thingShown} AS id) AS shown ON true
    JOIN LATERAL (${subject}) AS subject ON true
    LEFT JOIN people ON people.id = pictures.person_id
    LEFT JOIN picture_strikes ON picture_strikes.picture_id = pictures.id
   ORDER BY pictures.id`;

/** So many files of the archive from that content on; each content once. */
const selectFiles = `
  SELECT DISTINCT ON (sha256) encode(sha256, 'hex') AS sha256, media_type AS "mediaType", bytes FROM picture_files
   WHERE size = 'original' AND sha256 > decode($1, 'hex') ORDER BY sha256 LIMIT 500`;

interface FileRow extends Record<string, unknown> {
  sha256: string;
  mediaType: string;
  bytes: number;
}

/**
 * All photographs as one archive (POSIX ustar): the list first, then the originals, one after the other as they are read away. A file that this
 * server cannot see is named at the end.
 */
export function archiveOf(database: Database, folder: PhotographFolder): Readable {
  const archive = pack();
  fill(archive, database, folder).catch((error: unknown) => archive.destroy(error as Error));
  return Readable.from(archive);
}

async function fill(archive: Pack, database: Database, folder: PhotographFolder): Promise<void> {
  const list: Buffer[] = [];
  for await (const lines of csvOf(database.pool, photographColumns, selectRows)) list.push(Buffer.from(lines));
  archive.entry({ name: 'photographs.csv' }, Buffer.concat(list));
  const unseen: string[] = [];
  for (let after = ''; ; ) {
    const files = await database.rows<FileRow>(selectFiles, [after]);
    for (const file of files) if (!(await add(archive, folder, file))) unseen.push(folder.nameOf(file));
    const last = files.at(-1);
    if (last === undefined) break;
    after = last.sha256;
  }
  if (unseen.length > 0) archive.entry({ name: 'not-in-this-archive.txt' }, `${unseen.join('\n')}\n`);
  archive.finalize();
}

/** @returns false where the server cannot see the file */
async function add(archive: Pack, folder: PhotographFolder, file: FileRow): Promise<boolean> {
  try {
    const { stream, bytes } = await folder.read(file);
    await poured(archive, stream, { name: `photographs/${folder.nameOf(file)}`, size: bytes });
    return true;
  } catch (error) {
    if (error instanceof RefusalError) return false;
    throw error;
  }
}

/** Resolves when the archive has taken all of a file. @throws Error where nobody reads the archive any more */
async function poured(archive: Pack, file: Readable, head: { name: string; size: number }): Promise<void> {
  let gone = (): void => undefined;
  try {
    await new Promise<void>((settle, fail) => {
      gone = () => fail(new Error('Nobody reads the archive of photographs any more'));
      archive.once('close', gone);
      const entry = archive.entry(head, (error) => (error ? fail(error) : settle()));
      file.on('error', fail).pipe(entry);
    });
  } finally {
    archive.off('close', gone);
    file.destroy();
  }
}
