import type { LabelCode } from '@corewright/codes/label-code';
import type { BlankKind, CodeBlock } from '@corewright/contracts/labels';
import { blankLabels } from '@corewright/labels/label-model';
import type { Reader } from '../../platform/database/database.js';
import type { LabelSubject } from '../label-subject.js';

export const letterOf = { unit: 'U', lot: 'L', unsorted: 'X' } as const satisfies Record<BlankKind, string>;
const kindOf: Readonly<Record<string, BlankKind>> = { U: 'unit', L: 'lot', X: 'unsorted' };

/** More blocks than lie about in any workshop. */
const blocksMax = 50;

const selectBlocks = `
  SELECT code_blocks.id, code_blocks.kind AS letter, people.display_name AS by, recorded_at AS at,
         min(blank.code) AS first, max(blank.code) AS last, count(*)::integer AS count,
         count(*) FILTER (WHERE EXISTS (SELECT 1 FROM label_prints WHERE label_prints.code = blank.code))::integer AS printed,
         coalesce(array_agg(blank.code ORDER BY blank.code) FILTER (WHERE codes.code IS NULL), '{}') AS free
    FROM code_blocks JOIN people ON people.id = person_id JOIN blank_codes AS blank ON blank.block_id = code_blocks.id
    LEFT JOIN codes ON codes.code = blank.code
   WHERE $1::uuid IS NULL OR code_blocks.id = $1
   GROUP BY code_blocks.id, people.display_name
  HAVING $1::uuid IS NOT NULL OR count(*) > count(codes.code)
   ORDER BY recorded_at DESC, code_blocks.id LIMIT ${blocksMax}`;

type BlockRow = Omit<CodeBlock, 'kind'> & { letter: string } & Record<string, unknown>;

async function blocks(reader: Reader, id: string | null): Promise<CodeBlock[]> {
  const rows = await reader.rows<BlockRow>(selectBlocks, [id]);
  return rows.map(({ letter, ...block }) => ({ ...block, kind: kindOf[letter] ?? 'unsorted' }));
}

/** The blocks of which something is free. */
export function openBlocks(reader: Reader): Promise<CodeBlock[]> {
  return blocks(reader, null);
}

export async function codeBlock(reader: Reader, id: string): Promise<CodeBlock | null> {
  return (await blocks(reader, id))[0] ?? null;
}

const selectBlanks = `
  SELECT code FROM blank_codes WHERE code = ANY ($1::text[]) AND NOT EXISTS (SELECT 1 FROM codes WHERE codes.code = blank_codes.code)`;

/** The labels of codes that nothing bears yet. */
export async function blankSubjects(reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const rows = await reader.rows<{ code: LabelCode }>(selectBlanks, [codes]);
  return new Map(
    rows.map(({ code }) => {
      const kind = kindOf[code.charAt(0)] ?? 'unsorted';
      return [code, { stock: kind === 'unit' ? 'tie-on tag' : 'bag label', models: blankLabels({ code, kind }) }];
    }),
  );
}
