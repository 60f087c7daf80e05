import type { BoxPage, BoxTaking } from '@corewright/contracts/boxes';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, thingFacts, thingName } from '../../stores/place-words.js';
import { thingRow } from '../../stores/thing.queries.js';

interface TakingRow extends Record<string, unknown>, Omit<BoxTaking, 'thing'> {
  thingId: string | null;
  thingCode: string | null;
  thingName: string | null;
}

/** How many came out is what first lay in the box by the ledger. */
const selectTakings = `
  SELECT taking.id, taking.kind, things.id AS "thingId", ${codeOf('things.id')} AS "thingCode", ${thingName} AS "thingName",
         (SELECT trim_scale(quantity)::text FROM movements WHERE movements.thing_id = taking.thing_id ORDER BY sequence LIMIT 1) AS quantity,
         taking.pieces, taking.why, people.display_name AS by, taking.recorded_at AS at,
         EXISTS (SELECT FROM codes JOIN label_prints ON label_prints.code = codes.code WHERE codes.subject_id = taking.thing_id) AS labelled,
         (SELECT json_build_object('by', undoers.display_name, 'why', later.why,
                 'at', to_char(later.recorded_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'))
            FROM box_takings AS later JOIN people AS undoers ON undoers.id = later.person_id WHERE later.undoes_id = taking.id) AS undone
    FROM box_takings AS taking JOIN people ON people.id = taking.person_id
    LEFT JOIN things ON things.id = taking.thing_id ${thingFacts}
   WHERE taking.box_id = $1 AND taking.kind <> 'undone' ORDER BY taking.sequence DESC`;

/** A box with what was taken out of it; null for what is no box. */
export async function boxPage(reader: Reader, boxId: string): Promise<BoxPage | null> {
  const row = await thingRow(reader, boxId);
  if (row?.kind !== 'X') return null;
  const takings = await reader.rows<TakingRow>(selectTakings, [boxId]);
  const { id, code, words, pieceCount, piecesLeft, saidEmpty } = row;
  return { id, code, words, pieceCount, piecesLeft, saidEmpty, takings: takings.map(shown) };
}

function shown({ thingId, thingCode, thingName: name, ...row }: TakingRow): BoxTaking {
  return { ...row, thing: thingId === null ? null : { id: thingId, code: thingCode ?? '', name: name ?? '' } };
}
