import type { MigrationInterface, QueryRunner } from 'typeorm';
import { grantServing, grantServingColumns } from './serving-grants.js';

/**
 * Photographs as files under the SHA-256 of their content: the database keeps which there are and what each shows. What lay in the database is
 * moved into files by the server at its start.
 */
export class Photographs1764061200016 implements MigrationInterface {
  name = 'Photographs1764061200016';

  async up(runner: QueryRunner): Promise<void> {
    await runner.query(photographs);
    await grantServing(runner, 'append', ['picture_files', 'picture_strikes']);
    await grantServingColumns(runner, 'pictures', ['words', 'shows', 'version']);
    await grantServing(runner, 'edit-and-remove', ['picture_data']);
  }

  async down(): Promise<void> {
    throw new Error('Photographs are not brought back into the database: restore a backup instead.');
  }
}

const photographs = `
  ALTER TABLE pictures
    ADD COLUMN shows text NOT NULL DEFAULT 'thing' CHECK (shows IN ('thing', 'marks', 'job', 'finding', 'place')),
    ADD COLUMN words text NOT NULL DEFAULT '',
    -- of what the device sent; null for what was kept before photographs were files, and for what a file brought
    ADD COLUMN upload_sha256 bytea CHECK (length(upload_sha256) = 32),
    ADD COLUMN kept_at timestamptz NOT NULL DEFAULT now(),
    ADD COLUMN version integer NOT NULL DEFAULT 1;
  UPDATE pictures SET kept_at = taken_at,
    shows = coalesce((SELECT CASE kind WHEN 'J' THEN 'job' WHEN 'P' THEN 'place' END FROM codes WHERE codes.subject_id = pictures.subject_id LIMIT 1), 'thing');

  CREATE TABLE picture_files (
    picture_id uuid NOT NULL REFERENCES pictures,
    size text NOT NULL CHECK (size IN ('original', 'full', 'small')),
    sha256 bytea NOT NULL CHECK (length(sha256) = 32),
    media_type text NOT NULL CHECK (media_type IN ('image/jpeg', 'image/png', 'image/webp')),
    bytes integer NOT NULL CHECK (bytes > 0),
    PRIMARY KEY (picture_id, size)
  );
  CREATE INDEX picture_files_content ON picture_files (sha256);

  CREATE TABLE picture_strikes (
    picture_id uuid PRIMARY KEY REFERENCES pictures,
    command_key uuid NOT NULL REFERENCES commands,
    why text NOT NULL CHECK (why <> ''),
    person_id uuid REFERENCES people,
    struck_at timestamptz NOT NULL DEFAULT clock_timestamp()
  );

  ${['picture_files', 'picture_strikes']
    .map(
      (table) =>
        `CREATE TRIGGER ${table}_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON ${table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();`,
    )
    .join('\n  ')}
`;
