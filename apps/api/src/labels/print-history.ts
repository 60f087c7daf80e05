import { entriesBy, type HistorySource } from '../stores/history/history-registry.js';

const labels = (thingId: string): string => `
    SELECT label_prints.id, printed_at AS at, 'Label printed' || CASE WHEN copies > 1 THEN ', ' || copies || ' copies' ELSE '' END AS title, codes.code AS detail, person_id, ${thingId} AS thing_id
      FROM codes JOIN label_prints ON label_prints.code = codes.code WHERE subject_id = ANY ($1::uuid[])
    UNION ALL
    SELECT subject_id, voided_at, 'Label no longer valid', concat_ws(', ', code, void_words), NULL::uuid, ${thingId} FROM codes WHERE subject_id = ANY ($1::uuid[]) AND voided_at IS NOT NULL`;

/** Each label that was printed of a thing or a place, and each that was given up. */
export const labelHistory: HistorySource = {
  kind: 'labels',
  words: 'Labels',
  ofThings: entriesBy(labels('subject_id')),
  ofPlace: entriesBy(labels('NULL::uuid')),
};
