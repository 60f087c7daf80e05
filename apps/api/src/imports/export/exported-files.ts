import type { ExportFile, ImportFile, RecordFile } from '@corewright/contracts/imports';
import { minorPlacesUsual, otherMinorPlaces } from '@corewright/quantities/money';
import { unknownOwnerId } from '../../stores/ledger.js';
import { codeOf } from '../../stores/place-words.js';
import { placesTree } from '../places-tree.js';

const yes = (column: string): string => `CASE WHEN ${column} THEN 'yes' ELSE 'no' END`;
const listOf = (column: string): string => `array_to_string(${column}, ';')`;
const amountOf = (column: string): string => `trim_scale(${column})::text`;

/** SQL: an amount in minor units with the places of its currency, which is that of the workshop where nothing else is said. */
const moneyOf = (column: string, currency = 'NULL'): string => {
  const places = `CASE coalesce(${currency}, (SELECT currency FROM workshop)) ${Object.entries(otherMinorPlaces)
    .map(([code, count]) => `WHEN '${code}' THEN ${count}`)
    .join(' ')} ELSE ${minorPlacesUsual} END`;
  return `round(${column} / 10::numeric ^ (${places}), ${places})::text`;
};
const paidOf = (column: string): string => moneyOf(column, 'loads.currency');

/** A part is named by its main number, and by the maker whose number that is. */
const mainNumbers =
  'part_numbers AS main ON main.part_id = parts.id AND main.is_main JOIN makers AS main_maker ON main_maker.id = main.maker_id';

/** What a thing or a load is called in files: as in the file that brought it, else by its id, which no other workshop has. Sorted by bytes, as references are. */
export const referenceOf = (file: ImportFile, id: string): string =>
  `coalesce((SELECT min(reference) FROM import_references WHERE file = '${file}' AND subject_id = ${id}), ${id}::text)`;
const loadOf = (thing: string): string =>
  `(SELECT ${referenceOf('loads', 'load_id')} FROM load_rows WHERE thing_id = ${thing} AND NOT struck_out)`;

/**
 * SQL: what lies in places, as `lying`; a lot that lies in several is numbered by them. What is in a job's tray belongs to the job,
 * and what is condemned or found property does not leave with the good: a file cannot say so of it.
 */
const lying = `
  ${placesTree},
  lying AS (
    SELECT things.id, kind, quantity, path, owner_id, held_back_reason, held_back_by, hold_lifter_id, hold_look_again_on, row_number() OVER (PARTITION BY things.id ORDER BY path COLLATE "C") AS nth
      FROM balances JOIN (SELECT holder_id, path FROM tree) AS tree USING (holder_id) JOIN things ON things.id = thing_id
     WHERE quantity > 0 AND NOT condemned AND owner_id IS DISTINCT FROM '${unknownOwnerId}' AND NOT EXISTS (SELECT FROM jobs WHERE tray_id = holder_id))`;

/** SQL: who put a hold on, who alone may lift it and is there to be asked, and when somebody is to look again. */
const holdOf = `
  (SELECT sign_in_name FROM people WHERE people.id = held_back_by AND held_back_reason IS NOT NULL),
  (SELECT sign_in_name FROM people WHERE people.id = hold_lifter_id AND held_back_reason IS NOT NULL AND active AND role <> 'viewer'),
  CASE WHEN held_back_reason IS NOT NULL THEN hold_look_again_on::text END`;

/** SQL: what the packet of a container says, whether it is open, and since when where somebody knows. */
const isOpen = 'EXISTS (SELECT FROM open_containers WHERE open_containers.thing_id = lying.id)';
const containerOf = `
  CASE WHEN consumables.part_id IS NOT NULL THEN
    (SELECT use_by FROM use_by_readings WHERE use_by_readings.thing_id = lying.id ORDER BY sequence DESC LIMIT 1)::text END,
  CASE WHEN consumables.part_id IS NOT NULL AND ${isOpen} THEN 'yes' END,
  CASE WHEN consumables.part_id IS NOT NULL AND ${isOpen} THEN
    (SELECT opened_on FROM container_events WHERE container_events.thing_id = lying.id AND kind = 'opened' ORDER BY sequence DESC LIMIT 1)::text END`;

/**
 * What each file says: the columns of its reader in their order, as texts, and the rows in an order that is the same in every workshop. Trays of jobs
 * are left out: they belong to their jobs.
 */
export const exportedFiles: Record<ExportFile, string> = {
  makers: 'SELECT name, note FROM makers ORDER BY name',
  firms: `SELECT name, ${yes('is_customer')}, ${yes('is_supplier')}, ${yes('is_outworker')}, note FROM parties WHERE id <> '${unknownOwnerId}' ORDER BY name COLLATE "C"`,
  grades: `SELECT scale, letter, rank::text, meaning, ${yes('retired')} FROM grades ORDER BY scale COLLATE "C", rank`,
  places: `
      ${placesTree}
      SELECT path, kind, nicknames, CASE WHEN closed_at IS NOT NULL THEN 'yes' END FROM tree WHERE NOT EXISTS (SELECT FROM jobs WHERE tray_id = tree.holder_id) ORDER BY path COLLATE "C"`,
  'count-schedule': `
      ${placesTree}
      SELECT counts, which, days::text, at_most FROM (
        SELECT 1 AS nth, 'every place' AS counts, NULL AS which, usual_days AS days, NULL AS at_most FROM count_settings
        UNION ALL SELECT 2, 'scarce parts', NULL, scarce_days, ${amountOf('scarce_at_most')} FROM count_settings
        UNION ALL SELECT 3, 'kind of place', place_kind, days, NULL FROM count_terms WHERE place_kind IS NOT NULL
        UNION ALL SELECT 4, 'place', path, days, NULL FROM count_terms JOIN tree ON tree.holder_id = place_id WHERE closed_at IS NULL) AS said
       ORDER BY nth, which COLLATE "C"`,
  parts: `
      SELECT main_maker.name, main.number, parts.name, description, nicknames, unit_of_measure, material, polymer
        FROM parts JOIN ${mainNumbers} ORDER BY main_maker.name, main.number`,
  'part-numbers': `
      SELECT main_maker.name, main.number, makers.name, further.number, further.year_first::text, further.year_last::text
        FROM part_numbers AS further JOIN makers ON makers.id = further.maker_id JOIN parts ON parts.id = further.part_id JOIN ${mainNumbers}
       WHERE NOT further.is_main ORDER BY main_maker.name, main.number, makers.name, further.number`,
  'count-marks': `
      SELECT main_maker.name, main.number, ${yes('scarce')}
        FROM count_marks JOIN parts ON parts.id = count_marks.part_id JOIN ${mainNumbers} ORDER BY main_maker.name, main.number`,
  minimums: `
      SELECT main_maker.name, main.number, ${amountOf('minimum')}, ${amountOf('up_to')}, parties.name, part_minimums.note
        FROM part_minimums JOIN parts ON parts.id = part_minimums.part_id JOIN ${mainNumbers} LEFT JOIN parties ON parties.id = supplier_id
       ORDER BY main_maker.name, main.number`,
  // What was withdrawn stays behind: brought in, it would stand again.
  relations: `
      SELECT from_maker.name, from_main.number, kind,
             CASE WHEN count(DISTINCT main_maker.name) = 1 THEN min(main_maker.name) ELSE string_agg(main_maker.name, ';' ORDER BY main_maker.name, main.number) END,
             string_agg(main.number, ';' ORDER BY main_maker.name, main.number) AS to_numbers, since, conditions, evidence_kind, evidence_words
        FROM relations JOIN parts ON parts.id = to_part_id JOIN ${mainNumbers}
        JOIN part_numbers AS from_main ON from_main.part_id = from_part_id AND from_main.is_main JOIN makers AS from_maker ON from_maker.id = from_main.maker_id
       WHERE withdrawn_at IS NULL
       GROUP BY group_id, from_maker.name, from_main.number, kind, since, conditions, evidence_kind, evidence_words
       ORDER BY from_maker.name, from_main.number, kind COLLATE "C", to_numbers`,
  // What came with the program comes with it to every workshop; these are the workshop's own.
  bearings: `
      SELECT designation, type, ${amountOf('bore_mm')}, ${amountOf('outside_mm')}, ${amountOf('width_mm')}, ${amountOf('chamfer_min_mm')},
             ${amountOf('dynamic_rating_n')}, source
        FROM bearing_dimensions WHERE NOT shipped ORDER BY designation`,
  'bearing-suffixes':
    'SELECT maker, suffix, aspect, value, words, source FROM bearing_suffixes WHERE NOT shipped ORDER BY maker, suffix',
  'unit-types': `
      SELECT reference, makers.name, kind, model, variant, ratio, year_first::text, year_last::text, serial_range, recognise_by, ${amountOf('weight_kg')}
        FROM unit_types JOIN makers ON makers.id = maker_id ORDER BY reference`,
  'unit-type-components': `
      SELECT reference, position::text, unit_type_components.name, ${amountOf('quantity')}, ${yes('must_be_looked_at')}, usual_fate,
             main_maker.name, main.number, kept_set, ${yes('is_main_casing')}, ${yes('keeps_thickness')}
        FROM unit_type_components JOIN unit_types ON unit_types.id = unit_type_id
        LEFT JOIN (parts JOIN ${mainNumbers}) ON parts.id = unit_type_components.part_id
       ORDER BY reference, position`,
  'unit-type-acceptance': `
      SELECT reference, complete, assembled, cracks, holes, heat, weld, ${moneyOf('full_credit_minor')}
        FROM acceptance_terms JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference`,
  'unit-type-shares': `
      SELECT reference, position::text, ${amountOf('share')}
        FROM acceptance_shares JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, position`,
  'unit-type-operations': `
      SELECT reference, number::text, name, minutes::text, ${listOf('after_numbers')}
        FROM unit_type_operations JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, number`,
  'unit-type-lines': `
      SELECT reference, line_no::text, main_maker.name, main.number, ${amountOf('quantity')}, operation_number::text,
             ${yes('critical')}, ${yes('reusable')}, ${listOf('sources')}, ${listOf('makes')}, grade_least
        FROM unit_type_lines JOIN unit_types ON unit_types.id = unit_type_id JOIN parts ON parts.id = unit_type_lines.part_id JOIN ${mainNumbers}
       ORDER BY reference, line_no`,
  'unit-type-signs': `
      SELECT reference, number::text, unit_type_signs.kind, position, pattern, unit_type_signs.year_first::text, unit_type_signs.year_last::text, words, weight
        FROM unit_type_signs JOIN unit_types ON unit_types.id = unit_type_id WHERE NOT withdrawn ORDER BY reference, number`,
  'unit-type-serials': `
      SELECT reference, number::text, prefix, first::text, last::text
        FROM unit_type_serials JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, number`,
  'unit-type-teeth': `
      SELECT reference, gear, mesh::text, driver::text, driven::text
        FROM unit_type_teeth JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, gear COLLATE "C", mesh`,
  // Of each unit type the charge that stands; where they stand from several days, the last of those.
  consumables: `
      SELECT main_maker.name, main.number, container, keeps_days::text, ${yes('one_at_a_time')}, charged, ${moneyOf('use_minor', 'consumables.currency')},
             uses_per_container::text, flat.amounts, flat.since::text
        FROM consumables JOIN parts ON parts.id = consumables.part_id JOIN ${mainNumbers}
        LEFT JOIN LATERAL (
          SELECT string_agg(concat_ws(': ', reference, ${moneyOf('amount_minor', 'standing.currency')}), ';' ORDER BY reference NULLS FIRST) AS amounts,
                 max(for_jobs_from) AS since
            FROM (SELECT DISTINCT ON (unit_type_id) unit_type_id, amount_minor, currency, for_jobs_from FROM consumable_flat_charges
                   WHERE consumable_flat_charges.part_id = consumables.part_id ORDER BY unit_type_id, sequence DESC) AS standing
            LEFT JOIN unit_types ON unit_types.id = unit_type_id WHERE amount_minor IS NOT NULL) AS flat ON true
       WHERE NOT withdrawn ORDER BY main_maker.name, main.number`,
  // How it was shared stays behind: what was fitted or sold since bears its part, and does not go along.
  loads: `
      SELECT ${referenceOf('loads', 'loads.id')}, words, parties.name, bought_on::text, ${paidOf('price_minor')}, ${paidOf('haulage_minor')},
             ${paidOf('fees_minor')}, currency, rate, NULL
        FROM loads JOIN parties ON parties.id = seller_id ORDER BY 1`,
  units: `
      ${lying}
      SELECT ${referenceOf('units', 'lying.id')}, ${loadOf('lying.id')}, unit_types.reference, words, grade, marks, units.note, owners.name,
             path, stage, held_back_reason, NULL, ${holdOf}
        FROM lying JOIN units ON thing_id = lying.id LEFT JOIN unit_types ON unit_types.id = unit_type_id LEFT JOIN parties AS owners ON owners.id = owner_id
       ORDER BY 1`,
  lots: `
      ${lying}
      SELECT ${referenceOf('lots', 'lying.id')} || CASE WHEN nth > 1 THEN ' (place ' || nth || ')' ELSE '' END, ${loadOf('lying.id')},
             main_maker.name, main.number, words, ${amountOf('quantity')}, source, make, makers.name, marks, condition, packet_read, packet_condition,
             bearing_packing, bearing_store, path, owners.name, held_back_reason, lots.note, NULL,
             ${containerOf}, ${holdOf}
        FROM lying JOIN lots ON thing_id = lying.id LEFT JOIN makers ON makers.id = lots.maker_id LEFT JOIN parties AS owners ON owners.id = owner_id
        LEFT JOIN (parts JOIN ${mainNumbers}) ON parts.id = lots.part_id
        LEFT JOIN consumables ON consumables.part_id = lots.part_id AND NOT withdrawn
       ORDER BY 1`,
  'kept-for-jobs': `
      ${lying}
      SELECT main_maker.name, main.number, CASE lying.kind WHEN 'U' THEN ${referenceOf('units', 'lying.id')} END AS unit,
             CASE lying.kind WHEN 'L' THEN ${referenceOf('lots', 'lying.id')} END AS lot, reason
        FROM kept_for_jobs LEFT JOIN lying ON lying.id = kept_for_jobs.thing_id AND nth = 1
        LEFT JOIN (parts JOIN ${mainNumbers}) ON parts.id = kept_for_jobs.part_id
       WHERE lifted_at IS NULL AND (kept_for_jobs.part_id IS NOT NULL OR lying.kind IN ('U', 'L'))
       ORDER BY 1, 2, 3, 4`,
};

/** Records that cannot be brought in: their columns, and the rows in the order in which they were made. */
export const exportedRecords: Record<RecordFile, { columns: readonly string[]; text: string }> = {
  // A row for each line of a receipt, and one below it for each time that something of it came back.
  sales: {
    columns: [
      'receipt',
      'line',
      'what',
      'day',
      'label',
      'words',
      'quantity',
      'unit',
      'amount',
      'currency',
      'buyer',
      'paid',
      'said',
      'by',
    ],
    text: `
      SELECT number::text, line_no::text, what, day::text, ${codeOf('thing_id')}, words, ${amountOf('quantity')}, unit_of_measure, ${moneyOf('minor', 'currency')}, currency,
             buyer, paid, said, by
        FROM (
          SELECT number, line_no, 0 AS nth, 'sold' AS what, sold_on AS day, sale_lines.words, quantity, price_minor AS minor, said, display_name AS by,
                 thing_id, unit_of_measure, currency, concat_ws(', ', firms.name, nullif(buyer_words, '')) AS buyer, paid_words AS paid
            FROM sale_lines JOIN sales ON sales.id = sale_id JOIN people ON people.id = person_id LEFT JOIN parties AS firms ON firms.id = buyer_id
          UNION ALL
          SELECT number, line_no, sequence, 'taken back', returned_on, sale_lines.words, -sale_returns.quantity, -given_back_minor, why, display_name,
                 thing_id, unit_of_measure, currency, concat_ws(', ', firms.name, nullif(buyer_words, '')), money_words
            FROM sale_returns JOIN sale_lines ON sale_lines.id = sale_line_id JOIN sales ON sales.id = sale_id JOIN people ON people.id = sale_returns.person_id
            LEFT JOIN parties AS firms ON firms.id = buyer_id) AS sold
       ORDER BY sold.number, sold.line_no, nth`,
  },
};
