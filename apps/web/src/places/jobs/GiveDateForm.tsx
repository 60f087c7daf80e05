import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { sayDay } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { useJobChange } from './actions.js';
import styles from './PromisePanel.module.css';

/** Gives the customer a date. Against the advice it needs a reason, which stays on the record. */
export function GiveDateForm({ job, onClose }: { readonly job: JobCard; readonly onClose: () => void }) {
  const advice = job.coverage.advice;
  const [given, setGiven] = useState(advice.kind === 'firm' && advice.date !== null ? advice.date : '');
  const [reason, setReason] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const change = useJobChange(job.id, onClose);
  const isAgainst = change.isError && asProblem(change.error).code === 'against-advice';
  const warning = warningFor(advice, given);
  const submit = () => {
    setWasTried(true);
    if (given !== '' && !change.isPending) change.mutate({ kind: 'date', given, reason });
  };
  return (
    <div className={styles.form}>
      <Form label="Give a date" onSubmit={submit}>
        <TextField
          label="Date for the customer"
          type="date"
          value={given}
          onChange={setGiven}
          note={warning}
          error={wasTried && given === '' ? 'Key the day.' : null}
          autoFocus
        />
        <TextField
          label="Reason"
          value={reason}
          onChange={setReason}
          note="needed against the advice; it stays on the record with your name"
          error={
            isAgainst && reason.trim() === '' ? 'This date goes against the advice: say why it is given all the same.' : null
          }
          maxLength={200}
        />
        {change.isError && (
          <Failure error={change.error} word="Not given" kept="What you keyed is kept; the customer’s date is as it was." />
        )}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            {given === '' ? 'Give this date' : `Give ${sayDay(given)}`}
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

function warningFor(advice: JobCard['coverage']['advice'], given: string): string | null {
  if (advice.kind === 'none') return 'No date can be promised: something critical is lacking and nobody is known to have it.';
  if (given === '' || advice.date === null) return null;
  if (given < advice.date) return `Earlier than ${sayDay(advice.date)}, the earliest that can be reckoned.`;
  return advice.kind === 'if' ? 'It rests on the conditions above.' : null;
}
