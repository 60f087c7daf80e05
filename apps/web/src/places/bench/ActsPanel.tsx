import type { Act } from '@corewright/contracts/bench';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useQueue } from '../../api/use-queue.js';
import { actOf, codeOf } from '../../scan/acts.js';
import { useScanning } from '../../scan/scanning.js';
import { Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import { sayInstant } from '../../ui/say-when.js';
import styles from './ActsPanel.module.css';
import { benchActsQuery } from './queries.js';
import { TakeOutForm } from './TakeOutForm.js';

const shown = 10;

/** The last ten acts on this job, newest first; those still on their way stand above them. */
export function ActsPanel() {
  const { modes } = useScanning();
  const jobId = modes.job?.id ?? null;
  const { waiting } = useQueue();
  const onTheWay = waiting.filter((command) => actOf(command) !== null);
  return (
    <section className={styles.ten} aria-labelledby="last-acts">
      <h2 id="last-acts">
        Last ten acts <span className="quiet">newest first</span>
      </h2>
      <ol>
        {[...onTheWay].reverse().map((command) => (
          <WaitingRow key={command.key} command={command} />
        ))}
        {jobId !== null && <JobActs jobId={jobId} room={Math.max(0, shown - onTheWay.length)} />}
      </ol>
      {jobId === null && onTheWay.length === 0 && (
        <p className={styles.none}>Scan a job card in Pick or Fit: its acts then stand here.</p>
      )}
    </section>
  );
}

function WaitingRow({ command }: { readonly command: QueuedCommand }) {
  const code = codeOf(command);
  return (
    <li className={styles.row}>
      <span className="quiet">{sayInstant(command.madeAt, new Date())}</span>
      <b>Waits</b>
      <span>{code === null ? command.words : <Code code={code} size="row" />}</span>
    </li>
  );
}

function JobActs({ jobId, room }: { readonly jobId: string; readonly room: number }) {
  const { data, error } = useQuery(benchActsQuery(jobId));
  const [takingOut, setTakingOut] = useState<string | null>(null);
  if (data === undefined)
    return <li className={styles.none}>{error === null ? 'On their way.' : 'Not shown: no answer from the server.'}</li>;
  if (data.acts.length === 0) return <li className={styles.none}>Nothing yet. Scan what goes onto this job.</li>;
  return data.acts
    .slice(0, room)
    .map((act) => (
      <ActRow
        key={act.id}
        act={act}
        jobId={jobId}
        isOpen={takingOut === act.id}
        onToggle={() => setTakingOut(takingOut === act.id ? null : act.id)}
      />
    ));
}

const actWords: Readonly<Record<Act['act'], string>> = {
  picked: 'Picked',
  fitted: 'Fitted',
  're-used': 'Re-used',
  used: 'Used',
  'taken back': 'Taken back',
  removed: 'Taken out',
  'put back': 'Put back',
  refused: 'Refused',
};

interface ActRowProps {
  readonly act: Act;
  readonly jobId: string;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
}

function ActRow({ act, jobId, isOpen, onToggle }: ActRowProps) {
  const { desk } = useScanning();
  return (
    <li className={classNames(styles.row, act.act === 'refused' && styles.bad, act.struckOut && styles.back)}>
      <span className="quiet">{sayInstant(act.at, new Date())}</span>
      <b>{actWords[act.act]}</b>
      <span className={styles.what}>
        {act.code !== null && <Code code={act.code} size="row" />} <span className={styles.name}>{act.name}</span>
        {act.quantity !== null && act.quantity !== '1' && `, ${act.quantity}`}
        {act.lineNo !== null && <span className="small quiet"> line {act.lineNo}</span>}
        {act.words !== '' && <span className={classNames('small', styles.words)}>{act.words}</span>}
        {act.canBeTakenBack && act.code !== null && (
          <span className={styles.acts}>
            <Button look="plain" onPress={() => void desk.takeBack(act.id, act.code ?? '', act.name)}>
              Take back
            </Button>
            {act.fittingId !== null && (
              <Button look="plain" expanded={isOpen} onPress={onToggle}>
                Take out again
              </Button>
            )}
          </span>
        )}
      </span>
      {isOpen && act.fittingId !== null && (
        <div className={styles.form}>
          <TakeOutForm fittingId={act.fittingId} jobId={jobId} quantity={act.quantity ?? '1'} onDone={onToggle} />
        </div>
      )}
    </li>
  );
}
