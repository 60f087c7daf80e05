import type { BlankKind, CodeBlock } from '@corewright/contracts/labels';

export const BLANK_WORDS: Readonly<
  Record<BlankKind, { readonly one: string; readonly many: string; readonly stock: 'tie-on tag' | 'bag label' }>
> = {
  unit: { one: 'unit', many: 'units, two tags each', stock: 'tie-on tag' },
  lot: { one: 'lot', many: 'bags of parts', stock: 'bag label' },
  unsorted: { one: 'unsorted', many: 'boxes, unsorted', stock: 'bag label' },
};

/** What a scanned code begins a row of, where it is of a label that was printed beforehand and nothing bears yet; else null. */
export function rowBegunBy(code: string, blocks: readonly CodeBlock[]): BlankKind | null {
  return blocks.find((block) => block.free.includes(code))?.kind ?? null;
}
