import { formatCode, type LabelCode, type LabelKind, labelKinds, type ParsedCode, parseCode } from '@corewright/codes/label-code';
import type { Reader } from '../platform/database/database.js';
import { type Refusal, type Result, refused } from '../platform/refusal.js';

const whatItWasOn = 'SELECT voided_at AS "voidedAt", void_words AS "voidWords" FROM codes WHERE code = $1';
/** The label by which what bore a void one is known now; of a lot that is part of another by now, that one's. */
const liveInstead = `
  SELECT live.code, live.subject_id AS id FROM codes AS void JOIN codes AS live ON live.voided_at IS NULL
     AND (live.subject_id = void.subject_id OR live.moved_from_id = void.subject_id)
   WHERE void.code = $1 ORDER BY live.subject_id = void.subject_id DESC, live.further, live.given_at DESC, live.code LIMIT 1`;
/** Whether the label was printed beforehand, whatever it is on by now. */
export const isBlank = 'SELECT 1 AS there FROM blank_codes WHERE code = $1';

/** Reads what was keyed or scanned: form first, then check digits, then kind. */
export function readCode(text: string, kinds: readonly LabelKind[] | 'any' = 'any'): Result<ParsedCode> {
  const read = parseCode(text);
  if (!read.ok)
    return refused({
      status: 422,
      code: `code-${read.error.kind}`,
      title: 'Not a code of ours',
      detail: read.error.message,
      values: { keyed: text.slice(0, 64) },
    });
  if (kinds !== 'any' && !kinds.includes(read.value.kind)) {
    const wanted = kinds.map((kind) => labelKinds[kind]).join(' or ');
    return refused({
      status: 422,
      code: 'code-of-another-kind',
      title: 'Another kind of code',
      detail: `That is the code of a ${labelKinds[read.value.kind]}; here a ${wanted} is scanned. Nothing was changed.`,
      values: { code: read.value.code },
    });
  }
  return { ok: true, value: read.value };
}

/** The right words for a well-formed code that opens nothing: void, printed beforehand, or never given out. */
export async function whyNothingOpens(reader: Reader, parsed: ParsedCode): Promise<Refusal> {
  const row = await reader.row<{ voidedAt: string | null; voidWords: string | null }>(whatItWasOn, [parsed.code]);
  if (row?.voidedAt) return voidLabel(reader, parsed.code, row.voidWords ?? '');
  if (await reader.row(isBlank, [parsed.code]))
    return {
      status: 409,
      code: 'code-blank',
      title: 'A blank label',
      detail:
        'Nothing bears it yet. Scan it in a load of Goods-in: that begins a row with this label. Or put it on something that has lost its own.',
      values: { code: parsed.code },
    };
  return {
    status: 404,
    code: 'code-unknown',
    title: 'Not in the books',
    detail: `The code reads well, but no ${labelKinds[parsed.kind]} in these books bears it. It may belong to another workshop, or have been misread: scan it again.`,
    values: { code: parsed.code },
  };
}

/** What it was on, and where that has another label by now, which. */
async function voidLabel(reader: Reader, code: LabelCode, words: string): Promise<Refusal> {
  const now = await reader.row<{ code: LabelCode; id: string }>(liveInstead, [code]);
  return {
    status: 409,
    code: 'code-void',
    title: 'This label is void',
    detail: `${words}. Take this label off${now === null ? '' : `: it is now ${formatCode(now.code)}`}.`,
    values: { code, ...(now !== null && { nowCode: now.code, nowId: now.id }) },
  };
}
