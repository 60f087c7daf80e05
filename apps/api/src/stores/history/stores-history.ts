import { Injectable, type OnModuleInit } from '@nestjs/common';
import { arrangedHistory } from '../arrange-places/arranged-history.js';
import { holdHistory } from '../change-hold/hold-history.js';
import { condemnedHistory } from '../condemn/condemned-history.js';
import { keptForOwnerHistory } from '../kept-for-owners/kept-history.js';
import { regroupHistory } from '../regroup/regroup-history.js';
import { entriesBy, entryId, HistoryRegistry, type HistorySource } from './history-registry.js';
import { moneyEntriesBy } from './money-entries.js';
import { moves } from './moves.js';
import { relationsOfPart } from './part-history.js';

const missing: HistorySource = {
  kind: 'missing',
  words: 'Not there, and found',
  ofThings: entriesBy(`
    SELECT id, raised_at AS at, CASE kind WHEN 'not there' THEN 'Looked for and not found' WHEN 'another label' THEN 'Its label was found on something else' ELSE 'In hand against the books' END AS title, words AS detail, person_id, thing_id
      FROM stores_flags WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('id', "'settled'")}, settled_at, CASE kind WHEN 'not there' THEN 'No longer missing' ELSE 'Looked into' END, '', settled_by, thing_id
      FROM stores_flags WHERE thing_id = ANY ($1::uuid[]) AND settled_at IS NOT NULL`),
};

const inspections: HistorySource = {
  kind: 'inspections',
  words: 'Inspections',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at, CASE WHEN passed THEN 'Inspected and passed' ELSE 'Inspected, not passed' END AS title,
           concat_ws('. ', words, 'Looked at: ' || looked_at, 'On ' || to_char(inspected_on, 'FMDD Mon YYYY')) AS detail, person_id, thing_id
      FROM storage_inspections WHERE thing_id = ANY ($1::uuid[])`),
};

const typeNamed = `(SELECT concat_ws(' ', makers.name, model, nullif(variant, '')) FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = unit_type_id)`;

const naming: HistorySource = {
  kind: 'naming',
  words: 'What it is',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at, coalesce('Identified as ' || ${typeNamed}, 'Looked at, and nobody knows what it is') AS title, why AS detail, person_id, thing_id
      FROM identifications WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, recorded_at, told_by || ' was asked', words, person_id, thing_id FROM thing_answers WHERE thing_id = ANY ($1::uuid[])`),
};

const kept: HistorySource = {
  kind: 'sets',
  words: 'Kept together',
  ofThings: entriesBy(`
    SELECT ${entryId('kept_sets.id', 'thing_id')} AS id, joined_at AS at, 'Kept together with others' AS title, kept_sets.words AS detail, NULL::uuid AS person_id, thing_id
      FROM kept_set_members JOIN kept_sets ON kept_sets.id = set_id WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('kept_sets.id', 'thing_id', "'broken'")}, broken_at, 'No longer kept together', broken_why, broken_by, thing_id
      FROM kept_set_members JOIN kept_sets ON kept_sets.id = set_id WHERE thing_id = ANY ($1::uuid[]) AND broken_at IS NOT NULL`),
};

const photographs = `
    SELECT id, kept_at AS at, 'Photographed' AS title, '' AS detail, person_id, CASE WHEN shows = 'thing' THEN subject_id END AS thing_id
      FROM pictures WHERE subject_id = ANY ($1::uuid[])
    UNION ALL
    SELECT ${entryId('pictures.id', "'struck'")}, struck_at, 'A photograph struck out', why, picture_strikes.person_id, CASE WHEN shows = 'thing' THEN subject_id END
      FROM pictures JOIN picture_strikes ON picture_id = pictures.id WHERE subject_id = ANY ($1::uuid[])`;
const pictures: HistorySource = {
  kind: 'photographs',
  words: 'Photographs',
  ofThings: entriesBy(photographs),
  ofPlace: entriesBy(photographs),
};

const owners: HistorySource = {
  kind: 'owners',
  words: 'Whose it is',
  ofThings: entriesBy(`
    SELECT owner_changes.id, recorded_at AS at, coalesce('Now ' || owners.name || '’s', 'Now the workshop’s') AS title,
           concat_ws(', ', how, coalesce('before that ' || before.name || '’s', 'before that the workshop’s'), words) AS detail, person_id, thing_id
      FROM owner_changes LEFT JOIN parties AS owners ON owners.id = to_owner_id LEFT JOIN parties AS before ON before.id = from_owner_id
     WHERE thing_id = ANY ($1::uuid[])`),
};

const costs: HistorySource = {
  kind: 'costs',
  words: 'What it cost',
  isForKeepers: true,
  ofThings: moneyEntriesBy(`
    SELECT id, recorded_at AS at, 'Cost ' || currency || ' ' || amount_minor AS title,
           concat_ws(', ', CASE kind WHEN 'load share' THEN 'its share of the load' WHEN 'passed on' THEN 'passed on' WHEN 'opening stock' THEN 'as said of opening stock'
                                     ELSE 'put right by hand' END, nullif(why, '')) AS detail, person_id, thing_id
      FROM cost_entries WHERE thing_id = ANY ($1::uuid[])`),
};

/** What stores itself has on record. */
@Injectable()
export class StoresHistory implements OnModuleInit {
  constructor(private readonly registry: HistoryRegistry) {}

  onModuleInit(): void {
    this.registry.register(moves, holdHistory, missing, inspections, naming, kept, pictures, owners);
    this.registry.register(condemnedHistory, keptForOwnerHistory, regroupHistory, arrangedHistory, relationsOfPart, costs);
  }
}
