import { entriesBy, type HistorySource } from '../stores/history/history-registry.js';

/** A unit taken apart, what was found of what came out of it, its grades and what was decided about it. */
export const stripHistory: HistorySource = {
  kind: 'strip-downs',
  words: 'Taken apart',
  ofThings: entriesBy(`
    SELECT id, begun_at AS at, 'Strip-down begun' AS title, '' AS detail, begun_by AS person_id, unit_id AS thing_id FROM strip_downs WHERE unit_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, closed_at, 'Strip-down finished', '', closed_by, unit_id FROM strip_downs WHERE unit_id = ANY ($1::uuid[]) AND closed_at IS NOT NULL
    UNION ALL
    SELECT id, recorded_at, 'Found in a strip-down', concat_ws(', ', name, disposition), person_id, thing_id FROM strip_findings WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, 'Its casing was replaced', words, person_id, from_unit_id FROM unit_links WHERE from_unit_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, 'Goes on in another casing', words, person_id, to_unit_id FROM unit_links WHERE to_unit_id = ANY ($1::uuid[])`),
};

export const gradeHistory: HistorySource = {
  kind: 'grades',
  words: 'Grades and reviews',
  ofThings: entriesBy(`
    SELECT acceptances.id, recorded_at AS at, 'Acceptance sheet filled in' AS title, '' AS detail, person_id, unit_id AS thing_id FROM acceptances WHERE unit_id = ANY ($1::uuid[])
    UNION ALL
    SELECT acceptances.id, decided_at, 'Graded ' || grade, why, acceptance_decisions.person_id, unit_id
      FROM acceptances JOIN acceptance_decisions ON acceptance_id = acceptances.id WHERE unit_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, 'Looked through: ' || decided, note, person_id, unit_id FROM core_reviews WHERE unit_id = ANY ($1::uuid[])`),
};
