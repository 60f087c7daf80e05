import { Button } from '../../ui/Button.js';
import { Kbd } from '../../ui/Kbd.js';
import { Failure } from '../../ui/Problem.js';
import styles from './LoadGrid.module.css';
import type { LastAct } from './use-row-acts.js';

/** What was done last in this sitting, with the button that takes it back. */
export function LastActLine({ act, takenBack }: { readonly act: LastAct; readonly takenBack: string | null }) {
  return (
    <>
      <p className={styles.lastAct} role="status">
        {act.isPending && <span className="quiet">Taking it back …</span>}
        {!act.isPending && takenBack !== null && <span>Taken back: {takenBack}. </span>}
        {!act.isPending && act.last !== null && <span>Done last: {act.last.words}. </span>}
        {act.isUnderWay && <span className="quiet">On its way to the server; it can be taken back when it has answered.</span>}
      </p>
      {act.last !== null && !act.isUnderWay && (
        <Button look="plain" isPending={act.isPending} onPress={act.takeBack}>
          Take it back <Kbd>Alt ⌫</Kbd>
        </Button>
      )}
      {act.error !== null && <Failure error={act.error} word="Not taken back" />}
    </>
  );
}
