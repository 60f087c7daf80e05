import { entriesBy, type HistorySource } from './history-registry.js';

const number = (part: string): string =>
  `coalesce((SELECT number FROM part_numbers WHERE part_id = ${part} ORDER BY is_main DESC, id LIMIT 1), 'a part without a number')`;

/** What was said of what a part became and what serves in its place. */
export const relationsOfPart: HistorySource = {
  kind: 'relations',
  words: 'What else serves',
  ofPart: entriesBy(`
    WITH of_part AS (SELECT * FROM relations WHERE from_part_id = ANY ($1::uuid[]) UNION SELECT * FROM relations WHERE to_part_id = ANY ($1::uuid[])),
    worded AS (
      SELECT of_part.*, CASE kind
        WHEN 'supersession' THEN ${number('from_part_id')} || ' became ' || ${number('to_part_id')}
        WHEN 'same as' THEN ${number('from_part_id')} || ' is the same as ' || ${number('to_part_id')}
        ELSE ${number('from_part_id')} || ' will serve for ' || ${number('to_part_id')} END AS words FROM of_part)
    SELECT id, accepted_at AS at, words AS title, concat_ws('. ', evidence_kind || ': ' || evidence_words, nullif(conditions, '')) AS detail, accepted_by AS person_id, NULL::uuid AS thing_id FROM worded
    UNION ALL SELECT id, withdrawn_at, 'Withdrawn: ' || words, withdrawn_why, withdrawn_by, NULL FROM worded WHERE withdrawn_at IS NOT NULL`),
};
