import sharp from 'sharp';
import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Visitor } from './bare-server.js';

/** A photograph as a phone makes it: on its side, with a note of how to turn it, and where it was taken. */
export function phonePhotograph(width = 1200, height = 900): Promise<Buffer> {
  return sharp({ create: { width, height, channels: 3, background: '#7a5a3a' } })
    .withExif({
      IFD0: { Make: 'Invented Phone', Copyright: 'secret words' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();
}

export interface PictureAnswer {
  status: number;
  body: { id: string; width: number; height: number; code?: string; detail?: string };
}

/** Sends files as a browser's form does. */
export async function sendPicture(
  url: string,
  visitor: Visitor,
  subjectId: string,
  files: Buffer[],
  options: { key?: string; field?: string } = {},
): Promise<PictureAnswer> {
  const form = new FormData();
  for (const file of files)
    form.append(options.field ?? 'picture', new Blob([Uint8Array.from(file)], { type: 'image/jpeg' }), 'evil/../name.php');
  const headers = { cookie: visitor.cookie ?? '', 'idempotency-key': options.key ?? newId() };
  const response = await fetch(`${url}/api/pictures/${subjectId}`, { method: 'POST', headers, body: form });
  return { status: response.status, body: (await response.json()) as PictureAnswer['body'] };
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
