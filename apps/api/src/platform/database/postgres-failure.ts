/** The workshop's own Postgres could not be started, adopted or stopped. The message is a sentence for the person. */
export class EmbeddedPostgresError extends Error {
  /** What Postgres itself wrote, for whoever looks further. */
  readonly detail: string;

  constructor(message: string, detail = '') {
    super(message);
    this.name = 'EmbeddedPostgresError';
    this.detail = detail;
  }
}

const explanations: [pattern: RegExp, sentence: (folder: string) => string][] = [
  [
    /No space left on device|Disk quota exceeded|could not extend file/i,
    (folder) => `The disk that holds ${folder} is full. Free some space and start again; nothing that was saved is lost.`,
  ],
  [
    /database files are incompatible|initialized by PostgreSQL version/i,
    (folder) =>
      `The data in ${folder} were made by another version of Postgres than the one bundled here. ` +
      'Start the release that made them, or bring them over as docs/operations.md tells.',
  ],
  [
    /Address already in use|could not create any Unix-domain sockets|Unix-domain socket path .* is too long/i,
    (folder) => `Postgres could not open its socket for ${folder}: another server holds it, or the path to it is too long.`,
  ],
  [
    /lock file .* already exists|pre-existing shared memory block/i,
    (folder) => `Another Postgres is still working in ${folder}. Stop it, or wait until it has stopped, and start again.`,
  ],
  [
    /Permission denied|has wrong ownership|has invalid permissions/i,
    (folder) => `Postgres may not read or write ${folder}. Give the folder back to the user who starts the server.`,
  ],
  [
    /could not create shared memory segment|could not map anonymous shared memory|Cannot allocate memory|could not resize shared memory/i,
    () => 'There is not enough memory left on this machine to start Postgres. Close other programs and start again.',
  ],
  [
    /invalid checkpoint record|could not locate a valid checkpoint|invalid page in block|checksum verification failed/i,
    (folder) => `The data in ${folder} are damaged. Do not start again over them: copy the folder away, then restore a backup.`,
  ],
  [
    /error while loading shared libraries|Library not loaded|cannot execute|Exec format error/i,
    () =>
      'The bundled Postgres does not run on this machine: a library that it needs is missing. Use your own Postgres through DATABASE_URL.',
  ],
  [
    /could not look up effective user ID|user does not exist/i,
    () => 'Postgres needs a user with a name, and the user of this process has none in the list of users of this machine.',
  ],
];

/**
 * Puts into words why Postgres did not start.
 * @param output what it wrote to its log or its error output
 * @param folder the folder that the person knows the data by
 */
export function explainFailure(output: string, folder: string): EmbeddedPostgresError {
  const known = explanations.find(([pattern]) => pattern.test(output));
  const sentence = known
    ? known[1](folder)
    : `Postgres did not start in ${folder}. Its own words are in the log file beside the data.`;
  return new EmbeddedPostgresError(sentence, output.trim());
}
