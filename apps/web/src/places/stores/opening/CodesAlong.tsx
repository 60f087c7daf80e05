import { useMutation } from '@tanstack/react-query';
import { useWorksWithThings } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Failure } from '../../../ui/Problem.js';
import { nextCodeAlong, takeCodesAlong, useCodesAlong } from './codes-along.js';
import styles from './Opening.module.css';
import type { RowKeyed } from './row-keyed.js';

const TAKEN_AT_ONCE = 20;

export interface CodesAlongProps {
  readonly row: Pick<RowKeyed, 'kind' | 'code'>;
  readonly onCode: (code: string) => void;
}

/** The label of the row in hand: a blank one that was scanned, one of the codes that this device has along, or whichever comes next. */
export function CodesAlong({ row, onCode }: CodesAlongProps) {
  const along = useCodesAlong()[row.kind].length;
  const mayTake = useWorksWithThings();
  const taking = useMutation({ mutationFn: () => takeCodesAlong(row.kind, TAKEN_AT_ONCE) });
  const give = () => {
    const code = nextCodeAlong(row.kind);
    if (code !== null) onCode(code);
  };
  return (
    <div className={styles.label}>
      {row.code === '' ? (
        <p>Scan a blank label that you put on it. Without one it gets the next code, to be printed later.</p>
      ) : (
        <p>
          Its label: <Code code={row.code} size="row" />
        </p>
      )}
      {row.code === '' && mayTake && (
        <Acts>
          {along > 0 ? (
            <Button onPress={give}>Give it a code now: {along} along</Button>
          ) : (
            <Button look="plain" onPress={() => taking.mutate()} isPending={taking.isPending}>
              Take {TAKEN_AT_ONCE} codes along, for where there is no network
            </Button>
          )}
        </Acts>
      )}
      {taking.isError && <Failure error={taking.error} word="None taken" />}
    </div>
  );
}
