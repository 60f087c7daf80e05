import type { ExportFile } from '@corewright/contracts/imports';
import { placesTree } from '../places-tree.js';

const yes = (column: string): string => `CASE WHEN ${column} THEN 'yes' ELSE 'no' END`;
const listOf = (column: string): string => `array_to_string(${column}, ';')`;
const amountOf = (column: string): string => `trim_scale(${column})::text`;

/** A part is named by its main number, and by the maker whose number that is. */
const mainNumbers =
  'part_numbers AS main ON main.part_id = parts.id AND main.is_main JOIN makers AS main_maker ON main_maker.id = main.maker_id';

/**
 * What each file says: the columns of its reader in their order, as texts, and the rows in an order that is the same in every workshop. Trays of jobs
 * are left out: they belong to their jobs.
 */
export const exportedFiles: Record<ExportFile, string> = {
  makers: 'SELECT name, note FROM makers ORDER BY name',
  firms: `SELECT name, ${yes('is_customer')}, ${yes('is_supplier')}, ${yes('is_outworker')}, note FROM parties ORDER BY name COLLATE "C"`,
  grades: 'SELECT scale, letter, rank::text, meaning FROM grades ORDER BY scale COLLATE "C", rank',
  places: `
      ${placesTree}
      SELECT path, kind, nicknames FROM tree WHERE NOT EXISTS (SELECT FROM jobs WHERE tray_id = tree.holder_id) ORDER BY path COLLATE "C"`,
  parts: `
      SELECT main_maker.name, main.number, parts.name, description, nicknames, unit_of_measure, material, polymer
        FROM parts JOIN ${mainNumbers} ORDER BY main_maker.name, main.number`,
  'part-numbers': `
      SELECT main_maker.name, main.number, makers.name, further.number, further.year_first::text, further.year_last::text
        FROM part_numbers AS further JOIN makers ON makers.id = further.maker_id JOIN parts ON parts.id = further.part_id JOIN ${mainNumbers}
       WHERE NOT further.is_main ORDER BY main_maker.name, main.number, makers.name, further.number`,
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
  'unit-types': `
      SELECT reference, makers.name, kind, model, variant, ratio, year_first::text, year_last::text, serial_range, recognise_by, ${amountOf('weight_kg')}
        FROM unit_types JOIN makers ON makers.id = maker_id ORDER BY reference`,
  'unit-type-components': `
      SELECT reference, position::text, name, ${amountOf('quantity')}, ${yes('must_be_looked_at')}
        FROM unit_type_components JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, position`,
  'unit-type-operations': `
      SELECT reference, number::text, name, minutes::text, ${listOf('after_numbers')}
        FROM unit_type_operations JOIN unit_types ON unit_types.id = unit_type_id ORDER BY reference, number`,
  'unit-type-lines': `
      SELECT reference, line_no::text, main_maker.name, main.number, ${amountOf('quantity')}, operation_number::text,
             ${yes('critical')}, ${yes('reusable')}, ${listOf('sources')}, ${listOf('makes')}, grade_least
        FROM unit_type_lines JOIN unit_types ON unit_types.id = unit_type_id JOIN parts ON parts.id = unit_type_lines.part_id JOIN ${mainNumbers}
       ORDER BY reference, line_no`,
};
