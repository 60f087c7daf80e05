import type { KeptForOwner } from '@corewright/contracts/goods-apart';
import type { Reader } from '../../platform/database/database.js';
import { unknownOwnerId } from '../ledger.js';
import { codeOf, placePath, thingFacts, thingName } from '../place-words.js';

const endedShownMax = 100;

interface KeptRow extends Record<string, unknown> {
  id: string;
  kind: KeptForOwner['kind'];
  thingId: string;
  code: string | null;
  name: string;
  quantity: string;
  where: string;
  ownerId: string | null;
  ownerName: string | null;
  words: string;
  foundWhere: string;
  foundBy: string;
  since: string;
  askWhom: string;
  lookAgainOn: string;
  by: string;
  pictures: number;
  notes: KeptForOwner['notes'];
  endedHow: NonNullable<KeptForOwner['ended']>['how'] | null;
  endedWords: string | null;
  endedBy: string | null;
  endedAt: string | null;
}

const selectKept = `
  SELECT kept_for_owners.id, kept_for_owners.kind, things.id AS "thingId", ${codeOf('things.id')} AS code, ${thingName} AS name,
         trim_scale(held)::text AS quantity,
         coalesce((SELECT string_agg(${placePath('balances.holder_id')}, '; ' ORDER BY quantity DESC, balances.holder_id)
           FROM balances WHERE thing_id = things.id AND with_us AND quantity > 0), '') AS where,
         owner_id AS "ownerId", owners.name AS "ownerName", kept_for_owners.words, found_where AS "foundWhere", found_by AS "foundBy", since,
         ask_whom AS "askWhom", look_again_on AS "lookAgainOn", coalesce(keepers.display_name, '') AS by,
         (SELECT count(*)::integer FROM pictures WHERE subject_id = things.id AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id)) AS pictures,
         coalesce((SELECT jsonb_agg(jsonb_build_object('id', notes.id, 'way', way, 'on', said_on::text, 'withWhom', with_whom, 'words', notes.words,
                                                       'by', coalesce(sayers.display_name, '')) ORDER BY said_on, notes.recorded_at)
           FROM kept_for_owner_notes AS notes LEFT JOIN people AS sayers ON sayers.id = notes.person_id WHERE kept_id = kept_for_owners.id), '[]') AS notes,
         ended_how AS "endedHow", ended_words AS "endedWords", enders.display_name AS "endedBy", ended_at AS "endedAt"
    FROM kept_for_owners JOIN things ON things.id = kept_for_owners.thing_id ${thingFacts}
    LEFT JOIN parties AS owners ON owners.id = owner_id
    LEFT JOIN people AS keepers ON keepers.id = kept_for_owners.person_id LEFT JOIN people AS enders ON enders.id = ended_by`;

/** All that is kept for its owner, the day to look again that is first before the others. */
export async function keptNow(reader: Reader, today: string): Promise<KeptForOwner[]> {
  const rows = await reader.rows<KeptRow>(
    `${selectKept} WHERE ended_at IS NULL ORDER BY look_again_on, since, kept_for_owners.id`,
  );
  return rows.map((row) => shown(row, today));
}

/** The latest that has ended. */
export async function keptBefore(reader: Reader, today: string): Promise<KeptForOwner[]> {
  const rows = await reader.rows<KeptRow>(
    `${selectKept} WHERE ended_at IS NOT NULL ORDER BY ended_at DESC, kept_for_owners.id LIMIT ${endedShownMax}`,
  );
  return rows.map((row) => shown(row, today));
}

/** Those whose day to look again is there or past. */
export async function keptDue(reader: Reader, today: string): Promise<KeptForOwner[]> {
  const rows = await reader.rows<KeptRow>(
    `${selectKept} WHERE ended_at IS NULL AND look_again_on <= $1 ORDER BY look_again_on, since, kept_for_owners.id`,
    [today],
  );
  return rows.map((row) => shown(row, today));
}

export async function keptById(reader: Reader, id: string, today: string): Promise<KeptForOwner | null> {
  const row = await reader.row<KeptRow>(`${selectKept} WHERE kept_for_owners.id = $1`, [id]);
  return row && shown(row, today);
}

/** As what a thing is kept; null where it is not. */
export async function keptOfThing(reader: Reader, thingId: string, today: string): Promise<KeptForOwner | null> {
  const row = await reader.row<KeptRow>(`${selectKept} WHERE kept_for_owners.thing_id = $1 AND ended_at IS NULL`, [thingId]);
  return row && shown(row, today);
}

function shown(row: KeptRow, today: string): KeptForOwner {
  const { thingId, code, name, ownerId, ownerName, endedHow, endedWords, endedBy, endedAt, ...facts } = row;
  return {
    ...facts,
    thing: { id: thingId, code: code ?? '', name },
    owner: ownerId === null || ownerId === unknownOwnerId ? null : { id: ownerId, name: ownerName ?? '' },
    standing: endedAt !== null ? 'ended' : row.lookAgainOn < today ? 'overdue' : row.lookAgainOn === today ? 'today' : 'later',
    ended:
      endedAt === null || endedHow === null ? null : { how: endedHow, words: endedWords ?? '', by: endedBy ?? '', at: endedAt },
  };
}

export interface LockedKept extends Record<string, unknown> {
  id: string;
  thingId: string;
  kind: KeptForOwner['kind'];
  holds: boolean;
  endedAt: string | null;
}

const selectThing = 'SELECT thing_id AS "thingId" FROM kept_for_owners WHERE id = $1';
const lockKept = `
  SELECT id, thing_id AS "thingId", kind, holds, ended_at AS "endedAt" FROM kept_for_owners WHERE id = $1 FOR NO KEY UPDATE`;

/** Which thing is kept by this record. */
export async function thingOfKept(reader: Reader, id: string): Promise<string | null> {
  return (await reader.row<{ thingId: string }>(selectThing, [id]))?.thingId ?? null;
}

/** After the lock of its thing. */
export function lockOfKept(reader: Reader, id: string): Promise<LockedKept | null> {
  return reader.row<LockedKept>(lockKept, [id]);
}
