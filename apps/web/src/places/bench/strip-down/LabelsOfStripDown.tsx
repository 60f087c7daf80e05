import type { StripDown } from '@corewright/contracts/cores';
import { useMutation, useQuery } from '@tanstack/react-query';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button } from '../../../ui/Button.js';
import { startLabelRun } from '../../labels/actions.js';
import { printersQuery } from '../../labels/queries.js';
import { RunOutcome } from '../../labels/RunOutcome.js';
import styles from './StripDown.module.css';

const dotsUsual = 203;
const gone: readonly (string | null)[] = ['scrap', 'replace'];

/** The labels of what was kept at a strip-down, each printed once: the bag is labelled before the next part comes out. */
export function LabelsOfStripDown({ strip }: { readonly strip: StripDown }) {
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const codes = strip.components.flatMap((component) =>
    component.findings.flatMap(({ thing, superseded, disposition }) =>
      thing === null || superseded || gone.includes(disposition) ? [] : [thing.code],
    ),
  );
  const run = useMutation({
    mutationFn: () => {
      const printer = printers.find((each) => each.stock === 'bag label');
      const dotsPerInch = printer?.dotsPerInch ?? dotsUsual;
      return startLabelRun(
        { id: newKey(), codes, onlyUnlabelled: true, stock: 'bag label', dotsPerInch, startCell: 1 },
        newKey(),
      );
    },
  });
  if (codes.length === 0) return null;
  return (
    <div className={styles.foot}>
      <Acts>
        <Button onPress={() => run.mutate()} isPending={run.isPending}>
          Print the labels that are not printed yet
        </Button>
      </Acts>
      {(run.data !== undefined || run.isError) && <RunOutcome run={run.data} error={run.error} />}
    </div>
  );
}
