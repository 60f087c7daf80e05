import type { Coded } from '@corewright/contracts/base';
import type { CountBrief, CountFindingKind, CountList, CountPage } from '@corewright/contracts/counting';
import type { PictureShown } from '@corewright/contracts/pictures';
import { Injectable } from '@nestjs/common';
import { keepers, type SignedIn } from '../platform/access/signed-in.js';
import type { Reader } from '../platform/database/database.js';
import { picturesOf } from '../stores/pictures/picture.queries.js';
import { codeOf, placePath, thingFacts, thingName } from '../stores/place-words.js';
import { handsOf, readBefore, whoseLook } from './enter/second-look.js';

const endedShown = 50;
const mineShown = 40;

const brief = `
  counts.id, number, coalesce(${placePath('counts.place_id')}, parts.name, '') AS title, begun_at AS "begunAt", beginner.display_name AS "begunBy",
  ended_at AS "endedAt", ending, CASE WHEN ended_at IS NULL THEN '' ELSE concat_ws(': ', ender.display_name, nullif(ending_why, '')) END AS "endingWords"`;
const from = `
  FROM counts JOIN people AS beginner ON beginner.id = counts.person_id LEFT JOIN people AS ender ON ender.id = ended_by
  LEFT JOIN parts ON parts.id = part_id`;
const selectOpen = `SELECT ${brief} ${from} WHERE ended_at IS NULL ORDER BY begun_at, number`;
const selectEnded = `SELECT ${brief} ${from} WHERE ended_at IS NOT NULL ORDER BY ended_at DESC, number DESC LIMIT ${endedShown}`;
const selectOne = `
  SELECT ${brief}, counts.place_id AS "placeId", ${codeOf('counts.place_id')} AS "placeCode", part_id AS "partId", parts.name AS "partName" ${from} WHERE counts.id = $1`;

/** The tray of a job is counted where somebody scans it. Places where somebody is, those where the books have something to count, those where something is missing it: never how much. */
const selectPlaces = `
  WITH RECURSIVE inside AS (
    SELECT holder_id FROM places WHERE holder_id = (SELECT place_id FROM counts WHERE id = $1)
    UNION ALL SELECT places.holder_id FROM places JOIN inside ON places.parent_id = inside.holder_id),
  of_count AS (
    SELECT place_id AS id FROM count_takings WHERE count_id = $1
    UNION SELECT holder_id FROM inside WHERE EXISTS (SELECT FROM balances WHERE balances.holder_id = inside.holder_id)
    UNION SELECT place_id FROM counts WHERE id = $1 AND place_id IS NOT NULL
    UNION SELECT balances.holder_id FROM counts JOIN lots ON lots.part_id = counts.part_id JOIN balances ON balances.thing_id = lots.thing_id
           WHERE counts.id = $1)
  SELECT places.holder_id AS id, coalesce(${codeOf('places.holder_id')}, '') AS code, path,
         ARRAY(SELECT display_name FROM count_takings JOIN people ON people.id = person_id
                WHERE count_id = $1 AND place_id = places.holder_id ORDER BY joined, occurred_at) AS people,
         EXISTS (SELECT FROM count_takings WHERE count_id = $1 AND place_id = places.holder_id AND person_id = $2) AS "isMine",
         (SELECT max(occurred_at) FROM count_closings WHERE count_id = $1 AND place_id = places.holder_id) AS "closedAt",
         (SELECT count(*)::int FROM count_entries WHERE count_id = $1 AND place_id = places.holder_id
            AND NOT EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id)) AS scans
    FROM of_count JOIN places ON places.holder_id = of_count.id
   WHERE places.kind <> 'tray' OR EXISTS (SELECT FROM counts WHERE id = $1 AND counts.place_id = places.holder_id)
      OR EXISTS (SELECT FROM count_takings WHERE count_id = $1 AND place_id = places.holder_id)
   ORDER BY path COLLATE "C", places.holder_id LIMIT 2000`;
const selectAgain = `
  SELECT last.place_id AS "placeId", things.id, coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name, concat_ws(': ', display_name, nullif(last.why, '')) AS words
    FROM (SELECT DISTINCT ON (place_id, thing_id) place_id, thing_id, decision, why, person_id, decided_at FROM count_decisions
           WHERE count_id = $1 ORDER BY place_id, thing_id, turn DESC) AS last
    JOIN things ON things.id = last.thing_id ${thingFacts} JOIN people ON people.id = last.person_id
   WHERE decision = 'again' AND NOT EXISTS (SELECT FROM count_entries WHERE count_id = $1 AND count_entries.place_id = last.place_id
           AND count_entries.thing_id = last.thing_id AND recorded_at > last.decided_at)
     AND NOT EXISTS (SELECT FROM count_closings WHERE count_id = $1 AND count_closings.place_id = last.place_id AND recorded_at > last.decided_at)
   ORDER BY last.decided_at`;
const selectMine = `
  SELECT count_entries.id, things.id AS "thingId", coalesce(${codeOf('things.id')}, '') AS code, ${thingName} AS name, ${placePath('count_entries.place_id')} AS place,
         occurred_at AS at, trim_scale(quantity)::text AS quantity, asked,
         EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id) AS struck
    FROM count_entries JOIN things ON things.id = count_entries.thing_id ${thingFacts}
   WHERE count_id = $1 AND person_id = $2 ORDER BY sequence DESC LIMIT ${mineShown}`;
/** What one doubts who counts is told to those alone who keep the books, once all there is scanned: a count is blind. */
const selectFindings = `
  SELECT count_findings.id, count_findings.kind, ${placePath('count_findings.place_id')} AS place, things.id AS "thingId", ${codeOf('things.id')} AS code, ${thingName} AS name,
         count_findings.words, count_findings.quantity, finder.display_name AS by, occurred_at AS at, how, why, ender.display_name AS "endedBy", made.thing_id AS "madeId",
         ${codeOf('made.thing_id')} AS "madeCode", made.words AS "madeName"
    FROM count_findings JOIN people AS finder ON finder.id = count_findings.person_id LEFT JOIN things ON things.id = count_findings.thing_id ${thingFacts}
    LEFT JOIN count_finding_ends AS ends ON finding_id = count_findings.id LEFT JOIN people AS ender ON ender.id = ends.person_id
    LEFT JOIN unsorted_boxes AS made ON made.thing_id = ends.thing_id
   WHERE count_id = $1 AND (count_findings.kind <> 'in doubt' OR count_findings.person_id = $2 OR EXISTS (SELECT FROM counts WHERE id = $1 AND ended_at IS NOT NULL)
     OR ($3 AND EXISTS (SELECT FROM count_closings WHERE count_id = $1 AND count_closings.place_id = count_findings.place_id)))
   ORDER BY occurred_at, count_findings.id`;

type BriefRow = CountBrief & Record<string, unknown>;

export async function countList(reader: Reader): Promise<CountList> {
  const [open, ended] = [await reader.rows<BriefRow>(selectOpen), await reader.rows<BriefRow>(selectEnded)];
  return { open, ended };
}

interface CountedRow extends BriefRow {
  placeId: string | null;
  placeCode: string | null;
  partId: string | null;
  partName: string | null;
}

interface MineRow extends Record<string, unknown> {
  id: string;
  thingId: string;
  code: string;
  name: string;
  place: string;
  at: string;
  quantity: string | null;
  asked: CountPage['mine'][number]['asked'];
  struck: boolean;
}

interface FindingRow extends Record<string, unknown> {
  id: string;
  kind: CountFindingKind;
  place: string;
  thingId: string | null;
  code: string | null;
  name: string | null;
  words: string;
  quantity: number | null;
  by: string;
  at: string;
  how: 'made unsorted' | 'left' | null;
  why: string | null;
  endedBy: string | null;
  madeId: string | null;
  madeCode: string | null;
  madeName: string | null;
}

/** A count as whoever counts sees it: who is where, and what they themselves have keyed. Nothing of it says what the books hold. */
@Injectable()
export class CountPages {
  async of(reader: Reader, countId: string, { id: personId, role }: SignedIn): Promise<CountPage | null> {
    const row = await reader.row<CountedRow>(selectOne, [countId]);
    if (row === null) return null;
    const places = await reader.rows<Omit<CountPage['places'][number], 'again'> & Record<string, unknown>>(selectPlaces, [
      countId,
      personId,
    ]);
    const again = await secondLooks(reader, countId);
    const mine = await reader.rows<MineRow>(selectMine, [countId, personId]);
    const findings = await reader.rows<FindingRow>(selectFindings, [countId, personId, keepers.includes(role)]);
    const pictures = await picturesOf(
      reader,
      findings.map(({ id }) => id),
    );
    const { placeId, placeCode, partId, partName, ...shown } = row;
    return {
      ...shown,
      place: placeId === null ? null : { id: placeId, code: placeCode ?? '', name: row.title },
      part: partId === null ? null : { id: partId, name: partName ?? '' },
      places: places.map((place) => ({
        ...place,
        again: again.filter(({ placeId: at }) => at === place.id).map(({ thing, words, whose }) => ({ thing, words, whose })),
      })),
      mine: mine.map(({ thingId, code, name, ...entry }) => ({ ...entry, thing: { id: thingId, code, name } })),
      findings: findings.map((row) => findingShown(row, pictures)),
    };
  }
}

interface AgainRow extends Coded, Record<string, unknown> {
  placeId: string;
  words: string;
}

/** The second looks that nobody has had yet, and whose they are: nothing of what was counted. */
async function secondLooks(reader: Reader, countId: string) {
  const rows = await reader.rows<AgainRow>(selectAgain, [countId]);
  const hands = rows.length === 0 ? [] : await handsOf(reader);
  const all = [];
  for (const { placeId, words, id, code, name } of rows) {
    const whose = whoseLook(await readBefore(reader, countId, placeId, id), hands);
    all.push({ placeId, thing: { id, code, name }, words, whose });
  }
  return all;
}

function findingShown(row: FindingRow, pictures: readonly PictureShown[]): CountPage['findings'][number] {
  const { id, kind, place, words, quantity, by, at } = row;
  return {
    id,
    kind,
    place,
    words,
    quantity,
    by,
    at,
    pictures: pictures.filter(({ subjectId }) => subjectId === id),
    thing: row.thingId === null ? null : { id: row.thingId, code: row.code ?? '', name: row.name ?? '' },
    ended: row.how === null ? null : endedShownOf(row),
  };
}

function endedShownOf({
  kind,
  how,
  why,
  endedBy,
  madeId,
  madeCode,
  madeName,
}: FindingRow): CountPage['findings'][number]['ended'] {
  const said = [
    endedBy,
    how === 'left' ? (kind === 'in doubt' ? 'looked into' : 'left as it is') : 'made a thing of its own',
    why,
  ]
    .filter(Boolean)
    .join(', ');
  return { words: said, thing: madeId === null ? null : { id: madeId, code: madeCode ?? '', name: madeName ?? '' } };
}
