import { entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { labelChanges } from './change-labels/label-change-history.js';

/** A code that became void by a change of labels is told of by that change. */
const labels = (thingId: (bearer: string) => string): string => `
    SELECT label_prints.id, printed_at AS at, 'Label printed' || CASE WHEN copies > 1 THEN ', ' || copies || ' copies' ELSE '' END AS title, codes.code AS detail, person_id, ${thingId('subject_id')} AS thing_id
      FROM codes JOIN label_prints ON label_prints.code = codes.code WHERE subject_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('code', "'void'")}, voided_at, 'Label no longer valid', concat_ws(', ', code, void_words), NULL::uuid, ${thingId('subject_id')}
      FROM codes WHERE subject_id = ANY ($1::uuid[]) AND voided_at IS NOT NULL AND NOT EXISTS (SELECT FROM label_changes WHERE label_changes.subject_id = codes.subject_id AND label_changes.code = codes.code)
    UNION ALL ${labelChanges(thingId)}`;

/** Each label that was printed of a thing or a place, each that was given up, and what became of the others. */
export const labelHistory: HistorySource = {
  kind: 'labels',
  words: 'Labels',
  ofThings: entriesBy(labels((bearer) => bearer)),
  ofPlace: entriesBy(labels(() => 'NULL::uuid')),
};
