import type { LabelStock } from '@corewright/contracts/labels';
import { useMutation, useQuery } from '@tanstack/react-query';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { startLabelRun } from './actions.js';
import { printersQuery } from './queries.js';
import { RunOutcome } from './RunOutcome.js';

const dotsUsual = 203;

export interface PrintOnceProps {
  readonly codes: readonly string[];
  readonly stock: LabelStock;
  /** on the button */
  readonly act: string;
}

/** A run of the labels that are not printed yet: the bag is labelled before the next part is in the hand. */
export function PrintOnce({ codes, stock, act }: PrintOnceProps) {
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const run = useMutation({
    mutationFn: () => {
      const dotsPerInch = printers.find((each) => each.stock === stock)?.dotsPerInch ?? dotsUsual;
      return startLabelRun({ id: newKey(), codes: [...codes], onlyUnlabelled: true, stock, dotsPerInch, startCell: 1 }, newKey());
    },
  });
  if (codes.length === 0) return null;
  return (
    <>
      <Acts>
        <Button onPress={() => run.mutate()} isPending={run.isPending}>
          {act}
        </Button>
      </Acts>
      {(run.data !== undefined || run.isError) && <RunOutcome run={run.data} error={run.error} />}
    </>
  );
}
