import { amountOf, entriesBy, entryId, type HistorySource } from '../stores/history/history-registry.js';
import { placePath } from '../stores/place-words.js';

/**
 * SQL: whether a place may be told of while its count goes on: everybody who counts there has said that all is scanned, since it was last to
 * be counted again. Until then nothing is told that was counted there or decided, so that a count stays blind.
 */
const isTold = (row: string): string => `(counts.ended_at IS NOT NULL OR EXISTS (
    SELECT FROM count_closings AS closed WHERE closed.count_id = ${row}.count_id AND closed.place_id = ${row}.place_id
       AND closed.occurred_at >= ALL (SELECT taken.occurred_at FROM count_takings AS taken WHERE taken.count_id = ${row}.count_id AND taken.place_id = ${row}.place_id)
       AND closed.recorded_at > ALL (SELECT asked.decided_at FROM count_decisions AS asked WHERE asked.count_id = ${row}.count_id AND asked.place_id = ${row}.place_id AND asked.decision = 'again')))`;

const inCount = "'count ' || counts.number";
const difference = (
  row: string,
): string => `CASE WHEN ${row}.counted = ${row}.books THEN ${amountOf(`${row}.counted`)} || ' counted, as the books had it'
      ELSE ${amountOf(`${row}.counted`)} || ' counted, the books had ' || ${amountOf(`${row}.books`)} END`;

const decided = `CASE count_decisions.decision
      WHEN 'posted' THEN 'Difference of the count posted' WHEN 'moved' THEN 'Moved to where it was counted' WHEN 'missing' THEN 'Marked as missing after the count'
      WHEN 'again' THEN 'To be counted again' WHEN 'left' THEN 'Difference of the count left as it is' ELSE 'A decision about the count taken back' END`;
/** SQL: what the movement of a decision brought to its place. */
const posted =
  '(SELECT CASE WHEN to_holder_id = count_decisions.place_id THEN quantity ELSE -quantity END FROM movements WHERE movements.id = movement_id)';
const decidedDetail = `concat_ws(', ', CASE WHEN count_decisions.counted IS NOT NULL AND count_decisions.books IS NOT NULL THEN ${difference('count_decisions')} END,
      CASE WHEN decision = 'posted' AND ${posted} <> counted - books THEN 'less what the count had put right before' END, ${placePath('count_decisions.place_id')}, ${inCount}, nullif(count_decisions.why, ''))`;

const ownName = (row: string): string => `CASE WHEN ${row}.in_own_name THEN 'in their own name: everybody had looked before' END`;

/** How often it was photographed before anybody decided on it. */
const ofPictures = `(SELECT CASE count(*) WHEN 0 THEN NULL WHEN 1 THEN '1 photograph' ELSE count(*) || ' photographs' END FROM pictures
      WHERE subject_id = count_findings.id AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id))`;
const foundKind = `CASE count_findings.kind WHEN 'no label' THEN 'Found without a label' WHEN 'in doubt' THEN 'What was counted is in doubt'
      ELSE 'Found under the label of something else' END`;

const ofThings = `
    SELECT count_entries.id, count_entries.recorded_at AS at, coalesce(${amountOf('quantity')} || ' counted', 'Seen in a count') AS title,
           concat_ws(', ', ${placePath('count_entries.place_id')}, ${inCount}, ${ownName('count_entries')}) AS detail, count_entries.person_id, thing_id
      FROM count_entries JOIN counts ON counts.id = count_id WHERE thing_id = ANY ($1::uuid[]) AND ${isTold('count_entries')}
    UNION ALL
    SELECT ${entryId('entry_id', "'struck'")}, struck_at, 'What was counted is struck out',
           concat_ws(', ', coalesce(${amountOf('quantity')} || ' counted', 'seen'), ${placePath('count_entries.place_id')}, ${inCount}), count_entry_strikes.person_id, thing_id
      FROM count_entries JOIN count_entry_strikes ON entry_id = count_entries.id JOIN counts ON counts.id = count_id WHERE thing_id = ANY ($1::uuid[]) AND ${isTold('count_entries')}
    UNION ALL
    SELECT count_decisions.id, decided_at, ${decided}, ${decidedDetail}, count_decisions.person_id, thing_id
      FROM count_decisions JOIN counts ON counts.id = count_id WHERE thing_id = ANY ($1::uuid[]) AND ${isTold('count_decisions')}
    UNION ALL
    SELECT ${entryId('count_id', 'count_lines.place_id', 'thing_id')}, counts.ended_at, CASE WHEN agreed THEN 'Count posted: it agreed' ELSE 'Count posted: it differed' END,
           concat_ws(', ', ${difference('count_lines')}, ${placePath('count_lines.place_id')}, ${inCount}), counts.ended_by, thing_id
      FROM count_lines JOIN counts ON counts.id = count_id WHERE thing_id = ANY ($1::uuid[]) AND counts.ended_at IS NOT NULL
    UNION ALL
    SELECT count_findings.id, occurred_at, ${foundKind}, concat_ws(', ', words, ${placePath('count_findings.place_id')}, ${inCount}, ${ofPictures}), count_findings.person_id, thing_id
      FROM count_findings JOIN counts ON counts.id = count_id WHERE count_findings.kind = 'in doubt' AND thing_id = ANY ($1::uuid[]) AND ${isTold('count_findings')}
    UNION ALL
    SELECT ${entryId('finding_id', "'looked into'")}, decided_at, 'What was in doubt is looked into', concat_ws(', ', nullif(why, ''), ${inCount}), count_finding_ends.person_id, count_findings.thing_id
      FROM count_finding_ends JOIN count_findings ON count_findings.id = finding_id JOIN counts ON counts.id = count_id
     WHERE count_findings.kind = 'in doubt' AND count_findings.thing_id = ANY ($1::uuid[]) AND ${isTold('count_findings')}
    UNION ALL
    SELECT ${entryId('finding_id', "'found'")}, occurred_at, ${foundKind}, concat_ws(', ', quantity::text, words, ${placePath('count_findings.place_id')}, ${inCount}, ${ofPictures}), count_findings.person_id, count_finding_ends.thing_id
      FROM count_finding_ends JOIN count_findings ON count_findings.id = finding_id JOIN counts ON counts.id = count_id
     WHERE count_finding_ends.thing_id = ANY ($1::uuid[])`;

/** The counts in which somebody counted in the place, each with how its lines here came out once it was posted. */
const ofPlace = `
    SELECT counts.id, recorded_at AS at, 'Count ' || number || ' begun' AS title, '' AS detail, person_id, NULL::uuid AS thing_id FROM counts WHERE place_id = ANY ($1::uuid[])
    UNION ALL
    SELECT count_takings.id, occurred_at, CASE WHEN joined THEN 'Counts here too' ELSE 'Counts here' END, ${inCount}, count_takings.person_id, NULL
      FROM count_takings JOIN counts ON counts.id = count_id WHERE count_takings.place_id = ANY ($1::uuid[])
    UNION ALL
    SELECT count_closings.id, count_closings.recorded_at, 'Counted: all here is scanned', concat_ws(', ', ${inCount}, ${ownName('count_closings')}), count_closings.person_id, NULL
      FROM count_closings JOIN counts ON counts.id = count_id WHERE count_closings.place_id = ANY ($1::uuid[])
    UNION ALL
    SELECT count_findings.id, occurred_at, ${foundKind},
           concat_ws(', ', quantity::text, words, ${inCount}), count_findings.person_id, thing_id
      FROM count_findings JOIN counts ON counts.id = count_id WHERE count_findings.place_id = ANY ($1::uuid[]) AND ${isTold('count_findings')}
    UNION ALL
    SELECT ${entryId('finding_id', "'ended'")}, decided_at, CASE WHEN count_findings.kind = 'in doubt' THEN 'What was in doubt is looked into' WHEN how = 'left' THEN 'What was found is left as it is' ELSE 'What was found is in the books, to be sorted' END,
           concat_ws(', ', words, ${inCount}, nullif(count_finding_ends.why, '')), count_finding_ends.person_id, count_finding_ends.thing_id
      FROM count_finding_ends JOIN count_findings ON count_findings.id = finding_id JOIN counts ON counts.id = count_id
     WHERE count_findings.place_id = ANY ($1::uuid[]) AND ${isTold('count_findings')}
    UNION ALL
    SELECT count_decisions.id, decided_at, ${decided}, ${decidedDetail}, count_decisions.person_id, thing_id
      FROM count_decisions JOIN counts ON counts.id = count_id WHERE count_decisions.place_id = ANY ($1::uuid[]) AND ${isTold('count_decisions')}
    UNION ALL
    SELECT ${entryId('counts.id', 'places.holder_id', "'ended'")}, ended_at, 'Count ' || number || ' ' || ending,
           CASE WHEN ending = 'given up' THEN ending_why WHEN lines.all = 0 THEN 'nothing lay here' WHEN lines.differed = 0 THEN 'all here agreed: ' || lines.all
                ELSE lines.differed || ' of ' || lines.all || ' things here differed' END, ended_by, NULL
      FROM places JOIN counts ON ended_at IS NOT NULL
       AND (counts.place_id = places.holder_id OR EXISTS (SELECT FROM count_takings WHERE count_id = counts.id AND count_takings.place_id = places.holder_id))
      CROSS JOIN LATERAL (SELECT count(*) AS all, count(*) FILTER (WHERE NOT agreed) AS differed FROM count_lines WHERE count_id = counts.id AND places.holder_id IN (count_lines.place_id, counts.place_id)) AS lines
     WHERE places.holder_id = ANY ($1::uuid[])`;

const ofPart = `
    SELECT id, recorded_at AS at, 'Count ' || number || ' of it begun, wherever it lies' AS title, '' AS detail, person_id, NULL::uuid AS thing_id FROM counts WHERE part_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('id', "'ended'")}, ended_at, 'Count ' || number || ' of it ' || ending, ending_why, ended_by, NULL FROM counts WHERE part_id = ANY ($1::uuid[]) AND ended_at IS NOT NULL`;

/** What was counted by whom, whether it agreed, and what became of a difference; of a place when it was counted. */
export const countHistory: HistorySource = {
  kind: 'counts',
  words: 'Counts',
  ofThings: entriesBy(ofThings),
  ofPlace: entriesBy(ofPlace),
  ofPart: entriesBy(ofPart),
};
