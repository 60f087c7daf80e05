import type { CostStanding, OpeningRow, OpeningShelf, OpeningStanding } from '@corewright/contracts/opening-stock';
import { decimalFrom } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';
import { placeBrief } from '../stores/place.queries.js';
import { codeOf, holderWords, placePath } from '../stores/place-words.js';
import { type ThingRow, thingRows } from '../stores/thing.queries.js';
import { partOf } from '../stores/thing-page.js';
import { whyPosted } from './decide-change.js';
import { shelfOf } from './shelf/shelf-acts.js';

const instant = (column: string): string => `to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const lying = "balances.thing_id = rows.thing_id AND balances.quantity > 0 AND holders.kind <> 'count-difference'";

/** What opening stock keeps of a row, and where its thing is by now. */
const selectKeeping = `
  SELECT rows.thing_id AS id, trim_scale(rows.quantity)::text AS quantity, rows.standing, rows.cost_standing AS "costStanding", rows.version,
         rows.place_id AS "placeId", ${placePath('rows.place_id')} AS "placePath", rows.job_id AS "jobId", ${codeOf('rows.job_id')} AS "jobCode",
         (SELECT title FROM jobs WHERE jobs.id = rows.job_id) AS "jobTitle", rows.split_from_id AS "splitFromId",
         ${codeOf('rows.split_from_id')} AS "splitFromCode", people.display_name AS "keyedBy", ${instant('rows.keyed_at')} AS "keyedAt",
         at_desk.display_name AS "withAtDesk",
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY balances.quantity DESC, holders.id)
                     FROM balances JOIN holders ON holders.id = balances.holder_id WHERE ${lying}), 'nowhere any more') AS "where",
         EXISTS (SELECT FROM balances JOIN holders ON holders.id = balances.holder_id WHERE ${lying} AND holders.id <> rows.place_id) AS "isElsewhere",
         coalesce((SELECT quantity FROM balances WHERE thing_id = rows.thing_id AND holder_id = rows.place_id), 0)::text AS here,
         EXISTS (SELECT FROM codes JOIN label_prints ON label_prints.code = codes.code WHERE codes.subject_id = rows.thing_id) AS labelled,
         coalesce(nullif(${picturesOf('rows.thing_id')}, '{}'), ${picturesOf('rows.split_from_id')}) AS pictures
    FROM opening_rows AS rows JOIN people ON people.id = rows.keyed_by
    LEFT JOIN opening_desk ON opening_desk.thing_id = rows.thing_id AND opening_desk.until > now()
    LEFT JOIN people AS at_desk ON at_desk.id = opening_desk.person_id`;

function picturesOf(subject: string): string {
  return `(SELECT coalesce(array_agg(id ORDER BY taken_at, id), '{}') FROM pictures WHERE subject_id = ${subject}
    AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id))`;
}

interface Keeping extends Record<string, unknown> {
  id: string;
  quantity: string;
  standing: OpeningStanding;
  costStanding: CostStanding;
  version: number;
  placeId: string;
  placePath: string;
  jobId: string | null;
  jobCode: string | null;
  jobTitle: string | null;
  splitFromId: string | null;
  splitFromCode: string | null;
  keyedBy: string;
  keyedAt: string;
  withAtDesk: string | null;
  where: string;
  isElsewhere: boolean;
  /** how many lie in the place where they were keyed */
  here: string;
  labelled: boolean;
  pictures: string[];
}

const ofPlace = `${selectKeeping} WHERE rows.place_id = $1 ORDER BY rows.keyed_at, rows.thing_id`;
const ofRow = `${selectKeeping} WHERE rows.thing_id = $1`;

/** A place of opening stock with its rows; null where there is no such place. */
export async function shelfPage(reader: Reader, placeId: string): Promise<OpeningShelf | null> {
  const place = await placeBrief(reader, placeId);
  if (place === null) return null;
  const rows = await shown(reader, await reader.rows<Keeping>(ofPlace, [placeId]));
  return { place, ...(await shelfOf(reader, placeId)), rows };
}

export async function openingRow(reader: Reader, rowId: string): Promise<OpeningRow | null> {
  return (await shown(reader, await reader.rows<Keeping>(ofRow, [rowId])))[0] ?? null;
}

async function shown(reader: Reader, keepings: readonly Keeping[]): Promise<OpeningRow[]> {
  const things = await thingRows(
    reader,
    keepings.flatMap(({ id, splitFromId }) => (splitFromId === null ? [id] : [id, splitFromId])),
  );
  const byId = new Map(things.map((thing) => [thing.id, thing]));
  return keepings.flatMap((keeping) => {
    const thing = byId.get(keeping.id);
    return thing === undefined ? [] : [rowShown(keeping, thing, byId)];
  });
}

const kinds = { U: 'unit', L: 'lot', X: 'unsorted', C: 'unsorted' } as const;
const somewhere = [{ holderId: '', kind: 'place', counts: true, quantity: '1', name: null }] as const;

function rowShown(keeping: Keeping, thing: ThingRow, things: ReadonlyMap<string, ThingRow>): OpeningRow {
  const { jobId, jobCode, jobTitle, splitFromId, splitFromCode, placeId, placePath: path, isElsewhere, here, ...kept } = keeping;
  const posted = whyPosted({
    standing: kept.standing,
    jobId,
    elsewhere: isElsewhere ? [...somewhere] : [],
    here: decimalFrom(here),
    quantity: kept.quantity,
    thing,
  });
  return {
    ...kept,
    code: thing.code,
    kind: kinds[thing.kind],
    name: thing.name,
    words: thing.words,
    part: partOf(thing),
    unitType: thing.unitTypeId === null ? null : { id: thing.unitTypeId, name: thing.typeName },
    marks: thing.marks,
    owner: thing.ownerId === null ? null : { id: thing.ownerId, name: thing.ownerName ?? '' },
    note: thing.note,
    pieceCount: thing.pieceCount,
    place: { id: placeId, name: path },
    job: jobId === null ? null : { id: jobId, code: jobCode ?? '', name: jobTitle ?? '' },
    splitFrom:
      splitFromId === null ? null : { id: splitFromId, code: splitFromCode ?? '', name: things.get(splitFromId)?.name ?? '' },
    canBeChanged: posted === null,
  };
}
