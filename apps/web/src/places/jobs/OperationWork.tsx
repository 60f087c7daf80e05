import type { Operation } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { useJobChange } from './actions.js';
import styles from './JobLines.module.css';

/** How much of an operation is left, said by whoever does it. The date follows. */
export function OperationWork({ jobId, operation }: { readonly jobId: string; readonly operation: Operation }) {
  const [isOpen, setOpen] = useState(false);
  const [hours, setHours] = useState('');
  const change = useJobChange(jobId, () => setOpen(false));
  const minutes = minutesOf(hours);
  if (!isOpen) {
    return (
      <button
        type="button"
        className={styles.more}
        onClick={() => {
          setHours(String(operation.minutesLeft / 60));
          setOpen(true);
        }}
      >
        work left
        <span className="hidden"> on operation {operation.number}</span>
      </button>
    );
  }
  const send = (minutesLeft: number) =>
    change.mutate({ kind: 'operation', operationId: operation.id, version: operation.version, minutesLeft });
  return (
    <div className={styles.workform}>
      <Form label={`Work left on operation ${operation.number}`} onSubmit={() => minutes !== null && send(minutes)}>
        <TextField
          label="Hours left"
          value={hours}
          onChange={setHours}
          inputMode="decimal"
          note="half hours as 0.5; nought when it is done"
          error={minutes === null ? 'Key a number of hours, such as 2 or 1.5.' : null}
          autoFocus
        />
        {change.isError && <Failure error={change.error} kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            Set it
          </Button>
          <Button onPress={() => send(0)}>It is done</Button>
          <Button look="plain" onPress={() => setOpen(false)}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

/** Hours as keyed, in whole minutes; null when that is no number of hours. */
function minutesOf(hours: string): number | null {
  const value = Number(hours.replace(',', '.'));
  if (hours.trim() === '' || !Number.isFinite(value) || value < 0 || value > 10_000) return null;
  return Math.round(value * 60);
}
