import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { RowWarning } from '@corewright/contracts/goods-in';
import type * as z from 'zod';
import type { Reader } from '../platform/database/database.js';
import { identityOf, marksKey, marksPattern, mayBeSameMark } from '../stores/marks.js';
import { codeOf, thingFacts, thingName } from '../stores/place-words.js';

type Warning = z.infer<typeof RowWarning>;

interface Other extends Record<string, unknown> {
  mineId: string;
  id: string;
  code: LabelCode;
  name: string;
  marksKey: string;
  position: number | null;
  loadNumber: number | null;
}

/**
 * As many characters, and each read alike or not read on one of the two; the last one, in which serials differ most, is looked at
 * before the rest. A row that was struck out was never here.
 */
const selectOthers = `
  SELECT mine.id AS "mineId", things.id, ${codeOf('things.id')} AS code, ${thingName} AS name, units.marks_key AS "marksKey",
         load_rows.position, loads.number AS "loadNumber"
    FROM unnest($1::uuid[], $2::text[], $3::text[]) AS mine (id, mark, pattern)
    JOIN units AS others ON others.thing_id <> mine.id AND length(split_part(others.marks_key, ' ', 1)) = length(mine.mark)
                        AND (right(mine.mark, 1) IN ('?', right(split_part(others.marks_key, ' ', 1), 1))
                             OR right(split_part(others.marks_key, ' ', 1), 1) = '?')
                        AND split_part(others.marks_key, ' ', 1) ~ mine.pattern
    JOIN things ON things.id = others.thing_id ${thingFacts}
    LEFT JOIN load_rows ON load_rows.thing_id = things.id
    LEFT JOIN loads ON loads.id = load_rows.load_id
   WHERE load_rows.struck_out IS NOT TRUE
   ORDER BY things.id`;

/** For each of these units that bears the mark of another in the books, a warning that names the first of those. */
export async function sameMarks(
  reader: Reader,
  units: readonly { id: string; marks: string }[],
): Promise<ReadonlyMap<string, Warning>> {
  const marked = units
    .map(({ id, marks }) => ({ id, mark: identityOf(marksKey(marks)) }))
    .filter(({ mark }) => mayBeSameMark(mark, mark));
  if (marked.length === 0) return new Map();
  const markOf = new Map(marked.map(({ id, mark }) => [id, mark]));
  const others = await reader.rows<Other>(selectOthers, [
    marked.map(({ id }) => id),
    marked.map(({ mark }) => mark),
    marked.map(({ mark }) => `^${marksPattern(mark)}$`),
  ]);
  const warnings = new Map<string, Warning>();
  for (const other of others) {
    if (warnings.has(other.mineId) || !mayBeSameMark(markOf.get(other.mineId) ?? '', identityOf(other.marksKey))) continue;
    warnings.set(other.mineId, warningOf(other));
  }
  return warnings;
}

function warningOf({ id, code, name, position, loadNumber }: Other): Warning {
  const line = position === null ? '' : `, line ${position} of load ${loadNumber}`;
  return {
    kind: 'same-mark',
    words: `Same mark as ${formatCode(code)}${line}? One of them is misread.`,
    other: { id, code, name },
  };
}
