/**
 * The facts that a camera writes into a picture, by CIPA DC-008 (Exif) in the form of TIFF 6.0. They are made anew from the tags that are known
 * to say nothing of a position; what is not known goes, the maker's own notes among it, for nobody can tell what stands in them.
 */

interface Entry {
  tag: number;
  type: number;
  count: number;
  value: Buffer;
}

interface Reader {
  u16(at: number): number;
  u32(at: number): number;
}

/** When the picture was taken, as the camera's clock showed it; the offset from UTC where the camera knew it. */
export interface TakenByCamera {
  /** `YYYY-MM-DDThh:mm:ss` */
  local: string;
  /** `+hh:mm`, or null */
  offset: string | null;
}

const exifPointer = 0x8769;
const dateTimeOriginal = 0x9003;
const offsetTimeOriginal = 0x9011;

/** Of the first directory: words, camera, turn, resolution, software, date, artist, primaries, copyright. */
const mainTags = new Set([
  0x010e, 0x010f, 0x0110, 0x0112, 0x011a, 0x011b, 0x0128, 0x0131, 0x0132, 0x013b, 0x013e, 0x013f, 0x0211, 0x0213, 0x8298,
]);
/** Of the second: exposure, sensitivity, dates with their offsets, lens, light, sizes, colour, sensor, modes, camera and lens by number. */
const cameraTags = new Set([
  0x829a, 0x829d, 0x8822, 0x8824, 0x8827, 0x8830, 0x8831, 0x8832, 0x8833, 0x9000, 0x9003, 0x9004, 0x9010, 0x9011, 0x9012, 0x9101,
  0x9102, 0x9201, 0x9202, 0x9203, 0x9204, 0x9205, 0x9206, 0x9207, 0x9208, 0x9209, 0x920a, 0x9214, 0x9290, 0x9291, 0x9292, 0xa000,
  0xa001, 0xa002, 0xa003, 0xa20e, 0xa20f, 0xa210, 0xa214, 0xa215, 0xa217, 0xa300, 0xa301, 0xa401, 0xa402, 0xa403, 0xa404, 0xa405,
  0xa406, 0xa407, 0xa408, 0xa409, 0xa40a, 0xa40c, 0xa420, 0xa430, 0xa431, 0xa432, 0xa433, 0xa434, 0xa435,
]);

/** Bytes of one value of each type of TIFF 6.0, and of the UTF-8 of Exif 3.0. */
const sizes: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  129: 1,
};
const entriesMax = 500;
const valueBytesMax = 16_384;

/**
 * The same facts without those that could tell where the picture was taken. Cleaned again it stays byte for byte as it is.
 * @param tiff beginning with its byte order, "II" or "MM"
 * @returns null where nothing is left, or nothing can be read
 */
export function cleanExif(tiff: Buffer): Buffer | null {
  const found = directoriesOf(tiff);
  if (found === null) return null;
  const main = sortedOf(found.main, mainTags);
  const camera = sortedOf(found.camera, cameraTags);
  if (main.length + camera.length === 0) return null;
  return written(found.isLittle, main, camera);
}

/** When the picture was taken; null where the camera did not say. */
export function takenByCamera(tiff: Buffer): TakenByCamera | null {
  const camera = directoriesOf(tiff)?.camera ?? [];
  const textOf = (tag: number): string => camera.find((entry) => entry.tag === tag)?.value.toString('latin1') ?? '';
  const day = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)/.exec(textOf(dateTimeOriginal));
  if (day === null) return null;
  const local = `${day[1]}-${day[2]}-${day[3]}T${day[4]}:${day[5]}:${day[6]}`;
  // the 31st of a month that has 30 days would be taken for the 1st of the next
  if (Number.isNaN(Date.parse(`${local}Z`)) || new Date(`${local}Z`).toISOString().slice(0, 19) !== local) return null;
  return { local, offset: /^[+-]\d\d:\d\d/.exec(textOf(offsetTimeOriginal))?.[0] ?? null };
}

function directoriesOf(tiff: Buffer): { isLittle: boolean; main: Entry[]; camera: Entry[] } | null {
  const order = tiff.toString('latin1', 0, 2);
  if (tiff.length < 14 || (order !== 'II' && order !== 'MM')) return null;
  const isLittle = order === 'II';
  const read: Reader = isLittle
    ? { u16: (at) => tiff.readUInt16LE(at), u32: (at) => tiff.readUInt32LE(at) }
    : { u16: (at) => tiff.readUInt16BE(at), u32: (at) => tiff.readUInt32BE(at) };
  if (read.u16(2) !== 42) return null;
  const main = directoryAt(tiff, read, read.u32(4));
  const pointer = main.find((entry) => entry.tag === exifPointer && entry.type === 4 && entry.count === 1)?.value;
  const at = pointer === undefined ? null : isLittle ? pointer.readUInt32LE() : pointer.readUInt32BE();
  return { isLittle, main, camera: at === null ? [] : directoryAt(tiff, read, at) };
}

/** What of a directory can be read; an entry that points out of the data is passed over. */
function directoryAt(tiff: Buffer, read: Reader, at: number): Entry[] {
  if (at < 8 || at + 2 > tiff.length) return [];
  const count = Math.min(read.u16(at), entriesMax, Math.floor((tiff.length - at - 2) / 12));
  return Array.from({ length: count }, (_, index) => at + 2 + index * 12).flatMap((entryAt) => {
    const type = read.u16(entryAt + 2);
    const values = read.u32(entryAt + 4);
    const bytes = (sizes[type] ?? 0) * values;
    if (bytes === 0 || bytes > valueBytesMax) return [];
    const from = bytes <= 4 ? entryAt + 8 : read.u32(entryAt + 8);
    if (from + bytes > tiff.length) return [];
    return [{ tag: read.u16(entryAt), type, count: values, value: tiff.subarray(from, from + bytes) }];
  });
}

function sortedOf(entries: readonly Entry[], known: ReadonlySet<number>): Entry[] {
  const first = new Map<number, Entry>();
  for (const entry of entries) if (known.has(entry.tag) && !first.has(entry.tag)) first.set(entry.tag, entry);
  return [...first.values()].toSorted((one, other) => one.tag - other.tag);
}

/** One way of writing for the same entries: the directories one after the other, each followed by its values. */
function written(isLittle: boolean, main: readonly Entry[], camera: readonly Entry[]): Buffer {
  const mainAt = 8;
  const withPointer = (to: number): Entry[] => {
    if (camera.length === 0) return [...main];
    const value = Buffer.alloc(4);
    if (isLittle) value.writeUInt32LE(to);
    else value.writeUInt32BE(to);
    return [...main, { tag: exifPointer, type: 4, count: 1, value }].toSorted((one, other) => one.tag - other.tag);
  };
  const cameraAt = mainAt + bytesOf(withPointer(0));
  const tiff = Buffer.alloc(cameraAt + (camera.length === 0 ? 0 : bytesOf(camera)));
  tiff.write(isLittle ? 'II' : 'MM', 0, 'latin1');
  const write = writerOf(tiff, isLittle);
  write.u16(2, 42);
  write.u32(4, mainAt);
  put(tiff, write, mainAt, withPointer(cameraAt));
  if (camera.length > 0) put(tiff, write, cameraAt, camera);
  return tiff;
}

type Writer = { u16(at: number, value: number): void; u32(at: number, value: number): void };

function writerOf(tiff: Buffer, isLittle: boolean): Writer {
  return isLittle
    ? { u16: (at, value) => void tiff.writeUInt16LE(value, at), u32: (at, value) => void tiff.writeUInt32LE(value, at) }
    : { u16: (at, value) => void tiff.writeUInt16BE(value, at), u32: (at, value) => void tiff.writeUInt32BE(value, at) };
}

/** Values of more than four bytes stand behind the directory, each at an even place. */
const outside = (entry: Entry): number => (entry.value.length <= 4 ? 0 : entry.value.length + (entry.value.length % 2));
const directoryBytes = (entries: readonly Entry[]): number => 2 + entries.length * 12 + 4;

function bytesOf(entries: readonly Entry[]): number {
  return directoryBytes(entries) + entries.reduce((sum, entry) => sum + outside(entry), 0);
}

function put(tiff: Buffer, write: Writer, at: number, entries: readonly Entry[]): void {
  let valueAt = at + directoryBytes(entries);
  write.u16(at, entries.length);
  for (const [index, entry] of entries.entries()) {
    const entryAt = at + 2 + index * 12;
    write.u16(entryAt, entry.tag);
    write.u16(entryAt + 2, entry.type);
    write.u32(entryAt + 4, entry.count);
    if (outside(entry) === 0) entry.value.copy(tiff, entryAt + 8);
    else {
      write.u32(entryAt + 8, valueAt);
      entry.value.copy(tiff, valueAt);
      valueAt += outside(entry);
    }
  }
}
