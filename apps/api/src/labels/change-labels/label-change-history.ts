import { entryId } from '../../stores/history/history-registry.js';
import { codeSaid } from '../../stores/place-words.js';

const said = (code: string): string => `regexp_replace(${code}, '^(.)(.*)(..)$', '\\1 \\2 \\3')`;

/**
 * SQL: what became of the labels of things or places, each for whoever bears it afterwards, and for whom it left.
 * @param thingId an SQL word for the thing, given the column of the bearer
 */
export const labelChanges = (thingId: (bearer: string) => string): string => `
    SELECT id, recorded_at AS at,
           ${said('code')} || CASE kind WHEN 'put on' THEN ' put on as a further label' WHEN 'replaced' THEN ' replaced by ' || ${said('other_code')}
                                   WHEN 'taken off' THEN ' taken off' ELSE ' came over, with goods that were another lot' END AS title,
           why AS detail, person_id, ${thingId('subject_id')} AS thing_id
      FROM label_changes WHERE subject_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('id', "'left'")}, recorded_at, ${said('code')} || ' went over to ' || coalesce(${codeSaid('label_changes.subject_id')}, 'another lot') || ', with its goods', why, person_id, ${thingId('other_subject_id')}
      FROM label_changes WHERE other_subject_id = ANY ($1::uuid[])`;
