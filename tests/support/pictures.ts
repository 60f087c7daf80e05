import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Visitor } from './bare-server.js';

/** The smallest picture that is one: a single grey point. */
export const onePoint = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==',
  'base64',
);

/** A picture that no compression makes small, as a camera's are. */
export function grainyPhotograph(width: number, height: number): Promise<Buffer> {
  return sharp({
    create: { width, height, channels: 3, background: '#555555', noise: { type: 'gaussian', mean: 128, sigma: 50 } },
  })
    .jpeg({ quality: 92 })
    .toBuffer();
}

/** A photograph as a phone makes it: on its side, with a note of how to turn it, when and where it was taken. */
export function phonePhotograph(width = 1200, height = 900, background = '#7a5a3a'): Promise<Buffer> {
  return sharp({ create: { width, height, channels: 3, background } })
    .withExif({
      IFD0: { Make: 'Invented Phone', Copyright: 'secret words' },
      IFD2: { DateTimeOriginal: '2026:03:04 10:20:30', OffsetTimeOriginal: '+01:00', UserComment: 'behind the chapel' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1', GPSLongitudeRef: 'E', GPSLongitude: '7/1 15/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();
}

export interface KeepAsked {
  id: string;
  subjectId: string;
  bytes: number;
  sha256: string;
  ofMarks?: boolean;
  words?: string;
  fileDate?: string | null;
}

export interface PictureAnswer {
  status: number;
  body: {
    id: string;
    subjectId: string;
    width: number;
    height: number;
    code?: string;
    detail?: string;
    values?: { received?: number };
    [further: string]: unknown;
  };
}

/** What keeps a file once its pieces have arrived. */
export function keepPicture(subjectId: string, file: Buffer, further: Partial<KeepAsked> = {}): KeepAsked {
  return { id: newId(), subjectId, bytes: file.length, sha256: createHash('sha256').update(file).digest('hex'), ...further };
}

/** Sends one piece of a file. */
export async function sendPiece(
  url: string,
  visitor: Visitor,
  id: string,
  file: Buffer,
  { from = 0, to = file.length, bytes = file.length }: { from?: number; to?: number; bytes?: number } = {},
): Promise<{ status: number; body: { received: number; code?: string; values?: { received: number } } }> {
  const response = await fetch(`${url}/api/uploads/${id}?offset=${from}&bytes=${bytes}`, {
    method: 'PUT',
    headers: { cookie: visitor.cookie ?? '', 'idempotency-key': newId(), 'content-type': 'application/octet-stream' },
    body: new Uint8Array(file.subarray(from, to)),
  });
  return { status: response.status, body: (await response.json()) as { received: number } };
}

const pieceBytes = 512 * 1024;

/** Sends a file piece by piece; the answer to the last, or to the first that was refused. */
export async function sendPieces(url: string, visitor: Visitor, id: string, file: Buffer, from = 0) {
  for (let at = from; ; at += pieceBytes) {
    const answer = await sendPiece(url, visitor, id, file, { from: at, to: Math.min(at + pieceBytes, file.length) });
    if (answer.status !== 200 || at + pieceBytes >= file.length) return answer;
  }
}

/** Sends a photograph as a device does: its pieces, then what keeps it. */
export async function sendPicture(
  url: string,
  visitor: Visitor,
  subjectId: string,
  file: Buffer,
  { key = newId(), ...further }: Partial<KeepAsked> & { key?: string } = {},
): Promise<PictureAnswer> {
  const keep = keepPicture(subjectId, file, further);
  const sent = await sendPieces(url, visitor, keep.id, file);
  if (sent.status !== 200) return sent as unknown as PictureAnswer;
  return (await visitor.post<PictureAnswer['body']>('/api/pictures', keep, { key })) as PictureAnswer;
}

export async function fetchPicture(
  url: string,
  visitor: Visitor | null,
  id: string,
  size: string,
): Promise<{ response: Response; bytes: Buffer }> {
  const response = await fetch(`${url}/api/pictures/${id}/${size}`, { headers: { cookie: visitor?.cookie ?? '' } });
  return { response, bytes: Buffer.from(await response.arrayBuffer()) };
}
