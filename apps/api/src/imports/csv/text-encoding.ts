import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';

/** How the bytes of a file are read as text, or why they are not. */
export type Encoding = { ok: true; label: 'utf-8' | 'windows-1252'; words: string } | { ok: false; words: string; fault: string };

export interface Inspected {
  encoding: Encoding;
  /** SHA-256 of the bytes */
  digest: Buffer;
}

const asUtf8 = 'Save it as "CSV UTF-8 (comma delimited)" and send it again.';

/**
 * Reads a file once, never more than a piece of it in memory, to learn its encoding. UTF-8 shows itself; what is not UTF-8 is
 * taken for Windows-1252, which older spreadsheets write. UTF-16 and workbooks are refused in words.
 */
export async function inspectFile(path: string): Promise<Inspected> {
  const hash = createHash('sha256');
  const utf8 = new TextDecoder('utf-8', { fatal: true });
  let head: Buffer | null = null;
  let hasNul = false;
  let isUtf8 = true;
  for await (const piece of createReadStream(path) as AsyncIterable<Buffer>) {
    hash.update(piece);
    head ??= piece.subarray(0, 4);
    hasNul ||= piece.includes(0);
    isUtf8 &&= decodes(utf8, piece);
  }
  isUtf8 &&= decodes(utf8, null);
  return { encoding: encodingOf(head ?? Buffer.alloc(0), { hasNul, isUtf8 }), digest: hash.digest() };
}

function decodes(decoder: InstanceType<typeof TextDecoder>, piece: Buffer | null): boolean {
  try {
    if (piece) decoder.decode(piece, { stream: true });
    else decoder.decode();
    return true;
  } catch {
    return false;
  }
}

function encodingOf(head: Buffer, { hasNul, isUtf8 }: { hasNul: boolean; isUtf8: boolean }): Encoding {
  const starts = (...bytes: number[]) => bytes.every((byte, index) => head[index] === byte);
  if (starts(0x50, 0x4b, 0x03, 0x04) || starts(0xd0, 0xcf, 0x11, 0xe0))
    return { ok: false, words: 'workbook', fault: `This is a workbook of a spreadsheet, not CSV. ${asUtf8}` };
  if (starts(0xff, 0xfe) || starts(0xfe, 0xff) || hasNul)
    return {
      ok: false,
      words: 'UTF-16',
      fault: `This is not text in UTF-8 or Windows-1252: it looks like UTF-16 ("Unicode text"). ${asUtf8}`,
    };
  if (!isUtf8) return { ok: true, label: 'windows-1252', words: 'Windows-1252' };
  return { ok: true, label: 'utf-8', words: starts(0xef, 0xbb, 0xbf) ? 'UTF-8 with a byte-order mark' : 'UTF-8' };
}

/** The text of a file, piece by piece; a byte-order mark is left out. */
export async function* textOf(
  path: string,
  label: 'utf-8' | 'windows-1252',
  bytesRead: (count: number) => void,
): AsyncGenerator<string> {
  const decoder = new TextDecoder(label);
  for await (const piece of createReadStream(path) as AsyncIterable<Buffer>) {
    bytesRead(piece.length);
    yield decoder.decode(piece, { stream: true });
  }
  yield decoder.decode();
}
