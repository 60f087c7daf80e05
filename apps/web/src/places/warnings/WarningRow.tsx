import type { Warning } from '@corewright/contracts/warnings';
import { useState } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { sayInstant } from '../../ui/say-when.js';
import { MiniTag } from '../../ui/Tag.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useSettling } from './queries.js';
import styles from './Warnings.module.css';

export interface WarningRowProps {
  readonly warning: Warning;
  /** where it stands in a list that is counted through */
  readonly number?: number;
  /** the job on whose card it is shown: there is no need to look at that */
  readonly onCardOf?: string;
}

/** One warning: what, why, whose, and the way to say what was done about it. */
export function WarningRow({ warning, number, onCardOf }: WarningRowProps) {
  const [isSettling, setSettling] = useState(false);
  const mayDo = useWorksWithThings();
  const jobs = [warning.job, ...(warning.otherJob === null ? [] : [warning.otherJob])].filter(({ id }) => id !== onCardOf);
  return (
    <li className={styles.row} data-warning={warning.id}>
      {number !== undefined && (
        <span className={styles.number} aria-hidden="true">
          {number}
        </span>
      )}
      <div className={styles.tags}>
        {jobs.map((job) => (
          <MiniTag key={job.id} code={job.code} href={`/jobs/${job.id}`} />
        ))}
      </div>
      <div className={styles.text}>
        <h3>{warning.words}</h3>
        <p>{warning.why}</p>
        <p className="quiet">since {sayInstant(warning.raisedAt, new Date())}</p>
        {isSettling && <SettleForm warning={warning} onClose={() => setSettling(false)} />}
      </div>
      <div className={styles.acts}>
        {onCardOf === undefined && (
          <ButtonLink href={`/jobs/${warning.job.id}`} look="main">
            Look at the job
          </ButtonLink>
        )}
        {mayDo && !isSettling && (
          <Button onPress={() => setSettling(true)} label={`Settle it: ${warning.words}`}>
            Settle it
          </Button>
        )}
      </div>
    </li>
  );
}

function SettleForm({ warning, onClose }: { readonly warning: Warning; readonly onClose: () => void }) {
  const settling = useSettling(warning.id);
  return (
    <div className={styles.form}>
      <WhyForm
        label={`Settle: ${warning.words}`}
        question="What was done about it"
        note="it stays on the record with your name"
        act="It is settled"
        failed="Not settled"
        sending={settling}
        onWhy={(note) => settling.mutate(note)}
        onClose={onClose}
      />
    </div>
  );
}
