import type { JobConsumables } from '@corewright/contracts/consumables';
import { useState } from 'react';
import { asProblem } from '../../../api/problem.js';
import { Acts, Button } from '../../../ui/Button.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { useConsumableChange } from './queries.js';

export interface UseFormProps {
  readonly jobId: string;
  readonly choices: JobConsumables['choices'];
  readonly onClose: () => void;
}

/** So many uses on the job. Where none is open one can be opened; past use-by it needs a reason, in the person's name. */
export function UseForm({ jobId, choices, onClose }: UseFormProps) {
  const [partId, setPartId] = useState(choices.find(({ open }) => open > 0)?.part.id ?? choices[0]?.part.id ?? '');
  const [uses, setUses] = useState('1');
  const [reason, setReason] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const using = useConsumableChange(jobId, onClose);
  const asks = using.isError ? asProblem(using.error).values.answer : null;
  const isCount = /^[1-9]\d{0,3}$/.test(uses.trim());
  const send = (openOne: boolean) => {
    setWasTried(true);
    if (!isCount || using.isPending) return;
    const override = reason.trim() === '' ? {} : { override: { reason: reason.trim() } };
    using.mutate({ kind: 'use', partId, uses: Number(uses.trim()), openOne, ...override });
  };
  return (
    <Form label="Used on this job" onSubmit={() => send(false)}>
      <FieldPair>
        <SelectField
          label="What was used"
          value={partId}
          choices={choices.map(({ part, container, open, full }) => ({
            value: part.id,
            label: `${part.name}, by the ${container}: ${open} open, ${full} full`,
          }))}
          onChange={(id) => {
            setPartId(id);
            using.reset();
          }}
        />
        <TextField
          label="How many uses"
          value={uses}
          onChange={setUses}
          inputMode="numeric"
          error={wasTried && !isCount ? 'Key a whole number, 1 or more.' : null}
        />
      </FieldPair>
      {using.isError && <Failure error={using.error} word="Not charged" kept="What you keyed is kept." />}
      {(asks === 'override' || reason !== '') && (
        <TextField
          label="Why it is used all the same"
          value={reason}
          onChange={setReason}
          note="it stays on the record with your name"
          autoFocus
          maxLength={200}
        />
      )}
      <Acts>
        {asks === 'open one' && (
          <Button look="main" isPending={using.isPending} onPress={() => send(true)}>
            Open one now, and charge it
          </Button>
        )}
        <Button
          look={asks === 'open one' ? 'usual' : asks === 'override' ? 'grave' : 'main'}
          type="submit"
          isPending={using.isPending}
        >
          {asks === 'override' ? 'Use it all the same, in my name' : 'Charge it to the job'}
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}
