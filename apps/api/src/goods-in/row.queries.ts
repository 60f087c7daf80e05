import type { LoadRow, RowWarning } from '@corewright/contracts/goods-in';
import type { PictureShown } from '@corewright/contracts/pictures';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import type { StorageLife } from '@corewright/standards/storage-life';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { storageLifeOf, storageLifeShown } from '../catalogue/storage-life.js';
import { WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { goodsInPlace } from '../stores/goods-in-place.js';
import { picturesOf } from '../stores/pictures/picture.queries.js';
import { placePath } from '../stores/place-words.js';
import { type ThingRow, thingRows } from '../stores/thing.queries.js';
import { packetOf, partOf } from '../stores/thing-page.js';
import { sameMarks } from './same-marks.js';

type Warning = z.infer<typeof RowWarning>;

/** What goods-in itself keeps of a row, with where the thing lies now and how many came with the load. */
interface Keeping extends Record<string, unknown> {
  id: string;
  position: number;
  version: number;
  struckOut: boolean;
  quantity: string;
  placeId: string | null;
  placePath: string | null;
  labelled: boolean;
}

const selectKeeping = `
  SELECT load_rows.thing_id AS id, load_rows.position, load_rows.version, struck_out AS "struckOut",
         trim_scale(coalesce((SELECT -quantity FROM balances WHERE balances.thing_id = load_rows.thing_id
                               AND balances.holder_id = loads.seller_id), 0))::text AS quantity,
         here.holder_id AS "placeId", CASE WHEN here.holder_id IS NOT NULL THEN ${placePath('here.holder_id')} END AS "placePath",
         EXISTS (SELECT 1 FROM codes JOIN label_prints ON label_prints.code = codes.code
                  WHERE codes.subject_id = load_rows.thing_id) AS labelled
    FROM load_rows JOIN loads ON loads.id = load_id
    LEFT JOIN LATERAL (SELECT balances.holder_id FROM balances JOIN holders ON holders.id = holder_id
                        WHERE balances.thing_id = load_rows.thing_id AND holders.kind = 'place' AND quantity > 0
                        ORDER BY quantity DESC, holder_id LIMIT 1) AS here ON true`;
const keepingOfLoad = `${selectKeeping} WHERE load_id = $1 ORDER BY load_rows.position`;
const keepingOfRow = `${selectKeeping} WHERE load_rows.thing_id = $1`;

/** Rows of loads as the screens show them. */
@Injectable()
export class RowQueries {
  constructor(private readonly clock: WorkshopClock) {}

  /** Every row of a load, struck-out ones too, in the order of their lines. */
  async ofLoad(reader: Reader, loadId: string): Promise<LoadRow[]> {
    return this.shown(reader, await reader.rows<Keeping>(keepingOfLoad, [loadId]));
  }

  async one(reader: Reader, rowId: string): Promise<LoadRow | null> {
    return (await this.shown(reader, await reader.rows<Keeping>(keepingOfRow, [rowId])))[0] ?? null;
  }

  private async shown(reader: Reader, keepings: readonly Keeping[]): Promise<LoadRow[]> {
    const things = await thingRows(
      reader,
      keepings.map((keeping) => keeping.id),
    );
    const thingOf = new Map(things.map((thing) => [thing.id, thing]));
    const standing = keepings.filter((keeping) => !keeping.struckOut);
    const units = standing.flatMap(({ id }) => thingOf.get(id) ?? []).filter((thing) => thing.kind === 'U');
    const context = {
      today: await this.clock.today(reader),
      goodsIn: await goodsInPlace(reader),
      marks: await sameMarks(reader, units),
      pictures: await standingPictures(reader, keepings),
    };
    return keepings.flatMap((keeping) => {
      const thing = thingOf.get(keeping.id);
      return thing === undefined ? [] : [rowShown(keeping, thing, context)];
    });
  }
}

interface Context {
  today: string;
  goodsIn: string | null;
  marks: ReadonlyMap<string, Warning>;
  pictures: ReadonlyMap<string, PictureShown[]>;
}

/** Those that are not struck out, by what they are of. */
async function standingPictures(reader: Reader, keepings: readonly Keeping[]): Promise<ReadonlyMap<string, PictureShown[]>> {
  const ids = keepings.map(({ id }) => id);
  const standing = (await picturesOf(reader, ids)).filter(({ struckOut }) => struckOut === null);
  const bySubject = new Map<string, PictureShown[]>();
  for (const picture of standing) bySubject.set(picture.subjectId, [...(bySubject.get(picture.subjectId) ?? []), picture]);
  return bySubject;
}

const kinds = { U: 'unit', L: 'lot', X: 'unsorted', C: 'unsorted' } as const;

function rowShown(keeping: Keeping, thing: ThingRow, { today, goodsIn, marks, pictures }: Context): LoadRow {
  const isLot = thing.kind === 'L';
  const life = isLot ? storageLifeOf(thing, today) : null;
  const lifeWarning = life === null || keeping.struckOut ? null : storageWarning(life);
  const { placeId, placePath: path } = keeping;
  return {
    ...whatItIs(thing),
    position: keeping.position,
    version: keeping.version,
    place: placeId === null || placeId === goodsIn ? null : { id: placeId, path: path ?? '' },
    quantity: keeping.quantity,
    packet: isLot ? packetOf(thing) : null,
    packetCondition: isLot ? thing.packetCondition : null,
    storageLife: life === null ? null : storageLifeShown(life),
    pictures: pictures.get(keeping.id) ?? [],
    labelled: keeping.labelled,
    struckOut: keeping.struckOut,
    warnings: [marks.get(thing.id) ?? null, lifeWarning].filter((warning) => warning !== null),
  };
}

function whatItIs(thing: ThingRow) {
  const isLot = thing.kind === 'L';
  return {
    id: thing.id,
    code: thing.code,
    kind: kinds[thing.kind],
    owner: thing.ownerId === null ? null : { id: thing.ownerId, name: thing.ownerName ?? '' },
    note: thing.note,
    name: thing.name,
    unitType: thing.unitTypeId === null ? null : { id: thing.unitTypeId, name: thing.typeName },
    part: partOf(thing),
    words: thing.words,
    grade: thing.grade,
    marks: thing.marks,
    source: isLot ? thing.source : null,
    make: isLot ? thing.make : null,
    maker: thing.makerName,
    condition: thing.condition,
    pieceCount: thing.pieceCount,
  };
}

/** Rubber that may not be fitted is pointed out at once: it goes to another shelf. */
function storageWarning(life: StorageLife): Warning | null {
  if (!life.stopsFitting) return null;
  return { kind: 'storage-life', words: storageWords(life), other: null };
}

function storageWords({ since, state, group, longestExtensionEndsOn }: StorageLife): string {
  if (since === null) return 'Rubber without a date counts as past its life: may be shown, not fitted.';
  if (group === null)
    return `Bearing, its storage period over since ${formatPlainDate(since)}: not fitted unless it is inspected.`;
  const past = `Rubber, past its life since ${formatPlainDate(since)}`;
  if (state === 'extendable' && longestExtensionEndsOn !== null)
    return `${past}: not fitted unless an inspection extends it, to ${formatPlainDate(longestExtensionEndsOn)} at the longest.`;
  return `${past}: may be shown, not fitted.`;
}
