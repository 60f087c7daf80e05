import { amountOf, entriesBy, entryId, type HistorySource } from '../history/history-registry.js';
import { codeSaid } from '../place-words.js';

/** Of several places there is a row each: they are one act, and each of its two lots has an entry of it. */
const acts = (own: 'from_lot_id' | 'to_lot_id'): string => `
  SELECT ${entryId('command_key', 'from_lot_id', 'to_lot_id', `'${own}'`)} AS id, min(recorded_at) AS at, kind, from_lot_id, to_lot_id, ${amountOf('sum(quantity)')} AS amount, why, person_id
    FROM lot_regroupings WHERE ${own} = ANY ($1::uuid[]) GROUP BY command_key, kind, from_lot_id, to_lot_id, why, person_id`;

/** Bags that were two or one: what was split off, what became part of what, and what was said anew of it. */
export const regroupHistory: HistorySource = {
  kind: 'regrouping',
  words: 'Parted, joined and put right',
  ofThings: entriesBy(`
    SELECT id, at, CASE kind WHEN 'split' THEN amount || ' parted off as ' || ${codeSaid('to_lot_id')} ELSE 'Now part of ' || ${codeSaid('to_lot_id')} || ', ' || amount END AS title,
           why AS detail, person_id, from_lot_id AS thing_id FROM (${acts('from_lot_id')}) AS went
    UNION ALL
    SELECT id, at, CASE kind WHEN 'split' THEN amount || ' parted off from ' || ${codeSaid('from_lot_id')} ELSE amount || ' joined to it that were ' || ${codeSaid('from_lot_id')} END,
           why, person_id, to_lot_id FROM (${acts('to_lot_id')}) AS came
    UNION ALL
    SELECT id, recorded_at, 'Put right: ' || words, why, person_id, lot_id FROM lot_corrections WHERE lot_id = ANY ($1::uuid[])`),
};
