import { formatMoney, type Money } from '@corewright/quantities/money';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { entriesBy, HistoryRegistry, type HistorySource } from './history-registry.js';
import { moves } from './moves.js';
import { relationsOfPart } from './part-history.js';

const holds: HistorySource = {
  kind: 'holds',
  words: 'Held back or lifted',
  ofThings: entriesBy(`
    SELECT id, recorded_at AS at, CASE WHEN held_back THEN 'Held back' ELSE 'No longer held back' END AS title, reason AS detail, person_id, thing_id
      FROM hold_changes WHERE thing_id = ANY ($1::uuid[])`),
};

const missing: HistorySource = {
  kind: 'missing',
  words: 'Not there, and found',
  ofThings: entriesBy(`
    SELECT id, raised_at AS at, CASE kind WHEN 'not there' THEN 'Looked for and not found' ELSE 'In hand against the books' END AS title, words AS detail, person_id, thing_id
      FROM stores_flags WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT id, settled_at, CASE kind WHEN 'not there' THEN 'No longer missing' ELSE 'Looked into' END, '', settled_by, thing_id
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
    SELECT kept_sets.id, joined_at AS at, 'Kept together with others' AS title, kept_sets.words AS detail, NULL::uuid AS person_id, thing_id
      FROM kept_set_members JOIN kept_sets ON kept_sets.id = set_id WHERE thing_id = ANY ($1::uuid[])
    UNION ALL
    SELECT kept_sets.id, broken_at, 'No longer kept together', broken_why, broken_by, thing_id
      FROM kept_set_members JOIN kept_sets ON kept_sets.id = set_id WHERE thing_id = ANY ($1::uuid[]) AND broken_at IS NOT NULL`),
};

const photographs = `
    SELECT id, kept_at AS at, 'Photographed' AS title, '' AS detail, person_id, CASE WHEN shows = 'thing' THEN subject_id END AS thing_id
      FROM pictures WHERE subject_id = ANY ($1::uuid[])
    UNION ALL
    SELECT pictures.id, struck_at, 'A photograph struck out', why, picture_strikes.person_id, CASE WHEN shows = 'thing' THEN subject_id END
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

/** The amount goes along as minor units and currency, and is put into words afterwards: the database does not know how many places a currency has. */
const entriesOfCost = entriesBy(`
    SELECT id, recorded_at AS at, currency || ' ' || amount_minor AS title,
           concat_ws(', ', CASE kind WHEN 'load share' THEN 'its share of the load' WHEN 'passed on' THEN 'passed on' ELSE 'put right by hand' END, nullif(why, '')) AS detail, person_id, thing_id
      FROM cost_entries WHERE thing_id = ANY ($1::uuid[])`);
const costs: HistorySource = {
  kind: 'costs',
  words: 'What it cost',
  isForKeepers: true,
  ofThings: async (reader, asked) =>
    (await entriesOfCost(reader, asked)).map((row) => {
      const [currency = '', minor = '0'] = row.title.split(' ');
      return { ...row, title: `Cost ${formatMoney(BigInt(minor) as Money, currency)} ${currency}` };
    }),
};

/** What stores itself has on record. */
@Injectable()
export class StoresHistory implements OnModuleInit {
  constructor(private readonly registry: HistoryRegistry) {}

  onModuleInit(): void {
    this.registry.register(moves, holds, missing, inspections, naming, kept, pictures, owners, relationsOfPart, costs);
  }
}
