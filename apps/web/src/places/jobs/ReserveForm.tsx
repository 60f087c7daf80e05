import type { JobCard } from '@corewright/contracts/jobs';
import type { LineToReserve } from '@corewright/contracts/reservations';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { useJobChange } from './actions.js';
import styles from './JobLines.module.css';

export interface ReserveFormProps {
  readonly jobId: string;
  readonly state: JobCard['state'];
  readonly lines: readonly LineToReserve[];
  /** on the button that does it */
  readonly act: string;
  readonly onClose: () => void;
}

/** Reserves what lines count on, all or none of it. */
export function ReserveForm({ jobId, state, lines, act, onClose }: ReserveFormProps) {
  const change = useJobChange(jobId, onClose);
  const [until, setUntil] = useState('');
  return (
    <div className={styles.reserve}>
      <Form label={act} onSubmit={() => change.mutate({ kind: 'reserve', until: until === '' ? null : until, lines })}>
        <TextField
          label="Until"
          type="date"
          value={until}
          onChange={setUntil}
          note={
            state === 'estimate'
              ? 'an estimate keeps things for two weeks where no day is said'
              : 'leave it empty to keep it until it is fitted or released'
          }
          autoFocus
        />
        {change.isError && (
          <Failure error={change.error} word="Not reserved" kept="Nothing was changed; look at the lines again." />
        )}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            {act}
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
