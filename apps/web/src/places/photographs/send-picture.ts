import { type KeepPicture, UploadReached } from '@corewright/contracts/pictures';
import { bodyOf, commandHeaders, exchange } from '../../api/client.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { sayReached } from './reached.js';

/** What the server takes at once. Small enough that little is sent twice on a weak network. */
const pieceBytes = 1024 * 1024;
/** Another tab, or another try, may have sent pieces meanwhile; that often the server is believed about where to go on. */
const placesMax = 5;

/** A photograph as it waits on this device. */
export interface TakenPicture {
  readonly id: string;
  readonly subjectId: string;
  readonly picture: Blob;
  readonly ofMarks: boolean;
  readonly fileDate: string | null;
}

const formerRoot = '/api/pictures/';

/** What a command of the queue holds; one that an older version of this page kept named its thing in its path. */
export function takenPictureOf({ body, path, key }: QueuedCommand): TakenPicture {
  if (!(body instanceof Map)) return body as TakenPicture;
  return {
    id: key,
    subjectId: path.slice(formerRoot.length),
    picture: body.get('picture') as Blob,
    ofMarks: false,
    fileDate: null,
  };
}

/** Sends what the server does not have yet of a photograph, then has it kept. The first answer that is no success is the answer. */
export async function sendPicture(command: QueuedCommand, requestMilliseconds: number): Promise<Response> {
  const { id, subjectId, picture, ofMarks, fileDate } = takenPictureOf(command);
  const headers = commandHeaders(command.key, command.madeAt);
  const within = () => AbortSignal.timeout(requestMilliseconds);
  const reached = await exchange('GET', `/api/uploads/${id}`, { signal: within() });
  if (!reached.ok) return reached;
  const begun = UploadReached.parse(await bodyOf(reached));
  let places = 0;
  for (let at = begun.isKept ? picture.size : begun.received; at < picture.size; ) {
    sayReached(id, at / picture.size);
    const piece = await exchange('PUT', `/api/uploads/${id}?offset=${at}&bytes=${picture.size}`, {
      headers: { ...headers, 'Content-Type': 'application/octet-stream' },
      body: picture.slice(at, at + pieceBytes),
      signal: within(),
    });
    const goesOn = piece.ok ? null : await placeToGoOn(piece);
    if (!piece.ok) places += 1;
    if (!piece.ok && (goesOn === null || places > placesMax)) return piece;
    at = goesOn ?? UploadReached.parse(await bodyOf(piece)).received;
  }
  sayReached(id, 1);
  const keep: KeepPicture = { id, subjectId, ofMarks, fileDate, words: '', bytes: picture.size, sha256: await sha256Of(picture) };
  return exchange('POST', '/api/pictures', {
    headers: { ...headers, 'Content-Type': 'application/json' },
    body: JSON.stringify(keep),
    signal: within(),
  });
}

/** Where the server says that the upload goes on; null where that is not what it said. */
async function placeToGoOn(answer: Response): Promise<number | null> {
  if (answer.status !== 409) return null;
  const problem = (await bodyOf(answer.clone())) as { values?: { received?: unknown } } | null;
  const received = problem?.values?.received;
  return typeof received === 'number' ? received : null;
}

async function sha256Of(picture: Blob): Promise<string> {
  const sum = await crypto.subtle.digest('SHA-256', await picture.arrayBuffer());
  return Array.from(new Uint8Array(sum), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
