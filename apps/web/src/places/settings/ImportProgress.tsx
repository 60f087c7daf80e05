import type { ImportUnderWay } from '@corewright/contracts/imports';
import { useQuery } from '@tanstack/react-query';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { Progress } from '../../ui/Progress.js';
import { useStopImport } from './actions.js';
import { importUnderWayQuery } from './queries.js';
import styles from './SettingsScreen.module.css';

const askAgainMilliseconds = 700;

/** The import that is under way, whoever sent it and from whichever device. */
export function ImportProgress({ isOwn }: { readonly isOwn: boolean }) {
  const { data } = useQuery({
    ...importUnderWayQuery,
    refetchInterval: (query) => (isOwn || query.state.data?.underWay ? askAgainMilliseconds : false),
  });
  const underWay = data?.underWay ?? null;
  if (underWay !== null) return <HowFar underWay={underWay} />;
  return isOwn ? <Waiting>The files are on their way to the server.</Waiting> : null;
}

function HowFar({ underWay }: { readonly underWay: NonNullable<ImportUnderWay['underWay']> }) {
  const stop = useStopImport();
  const isStopping = stop.isPending || underWay.isStopping;
  const act = underWay.isTrial ? 'is trying files' : 'is bringing files in';
  return (
    <div className={styles.stack}>
      <Progress
        label={underWay.file === '' ? 'Opening the files' : `Reading ${underWay.file}.csv, ${underWay.rows} rows so far`}
        done={Math.ceil(underWay.bytesRead / 1000)}
        of={Math.ceil(underWay.bytesTotal / 1000)}
        unit="kB"
      />
      <p>
        {underWay.by} {act}. It goes on although this page is left; one import runs at a time.
      </p>
      <Acts>
        <Button isPending={isStopping} onPress={() => stop.mutate(underWay.id)}>
          Stop it and keep nothing
        </Button>
      </Acts>
      {isStopping && <Waiting>Stopping: what was read is being taken back.</Waiting>}
      {stop.error !== null && <Failure word="Not stopped" error={stop.error} />}
    </div>
  );
}
