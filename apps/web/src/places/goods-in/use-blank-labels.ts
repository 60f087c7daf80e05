import type { BlankKind } from '@corewright/contracts/labels';
import { useQuery } from '@tanstack/react-query';
import type { ScanTaker } from '../../scan/scan-desk.js';
import { rowBegunBy } from './blank-labels.js';
import { blankLabelsQuery } from './queries.js';
import type { RowValues } from './row-values.js';

interface Labelled {
  readonly id: string;
  readonly values: RowValues;
}

/**
 * Takes the scan of a label that was printed beforehand: the first begins a row that bears it, a further one goes back to that row.
 * Every other scan is left to the mode.
 */
export function useBlankLabels(
  rows: readonly Labelled[],
  onLabel: (rowId: string | null, label: { readonly kind: BlankKind; readonly code: string }) => void,
): ScanTaker {
  const blocks = useQuery(blankLabelsQuery).data?.blocks ?? [];
  return ({ code }) => {
    const kind = rowBegunBy(code, blocks);
    if (kind === null) return false;
    onLabel(rows.find((row) => row.values.code === code)?.id ?? null, { kind, code });
    return true;
  };
}
