import { BuildStandard } from '@corewright/contracts/base';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { ComboField } from '../../ui/ComboField.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { openJob } from './actions.js';
import { findCustomers } from './queries.js';

export const PRIORITIES = [
  { value: '1', label: '1, before all others' },
  { value: '2', label: '2' },
  { value: '3', label: '3, as usual' },
  { value: '4', label: '4' },
  { value: '5', label: '5, when there is time' },
] as const;

export const STANDARDS = BuildStandard.options.map((standard) => ({ value: standard, label: standard }));

/** A new job on a unit. The unit's type brings operations and lines. */
export function NewJobScreen({ unitCode: unitCodeFirst = '' }: { readonly unitCode?: string }) {
  const router = useRouter();
  const client = useQueryClient();
  const [id] = useState(newKey);
  const [unitCode, setUnitCode] = useState(unitCodeFirst);
  const [customerName, setCustomerName] = useState('');
  const [title, setTitle] = useState('');
  const [wanted, setWanted] = useState('');
  const [buildStandard, setBuildStandard] = useState<BuildStandard>('serviceable');
  const [priority, setPriority] = useState<(typeof PRIORITIES)[number]['value']>('3');
  const [wasTried, setWasTried] = useState(false);
  const open = useMutation({
    mutationFn: () => openJob({ id, unitCode, customerName, title, wanted, buildStandard, priority: Number(priority) }),
    onSuccess: (job) => {
      void client.invalidateQueries({ queryKey: ['jobs'] });
      router.history.push(`/jobs/${job.id}`);
    },
  });
  const submit = () => {
    setWasTried(true);
    if (unitCode.trim() !== '' && !open.isPending) open.mutate();
  };
  return (
    <>
      <PageHead
        title="Open a job"
        note="One rebuild of one unit. Its type brings the operations and the parts list; both can be changed on the card."
      />
      <Form label="A new job" onSubmit={submit}>
        <FieldPair>
          <TextField
            label="Unit"
            value={unitCode}
            onChange={setUnitCode}
            note="the code on its tag, U and eight figures"
            error={wasTried && unitCode.trim() === '' ? 'Key the code on the unit’s tag.' : null}
            autoFocus
          />
          <ComboField
            label="Customer"
            text={customerName}
            onText={setCustomerName}
            onChoose={(firm) => setCustomerName(firm.label)}
            source={findCustomers}
            note="empty: rebuilt for stock"
          />
        </FieldPair>
        <TextField label="Title" value={title} onChange={setTitle} note="empty: the unit’s type" maxLength={200} />
        <TextField label="What is wanted" value={wanted} onChange={setWanted} lines={3} note="in the customer’s words" />
        <FieldPair>
          <SelectField
            label="Build standard"
            value={buildStandard}
            choices={STANDARDS}
            onChange={setBuildStandard}
            note="which sources, makes and grades each line accepts"
          />
          <SelectField label="Priority" value={priority} choices={PRIORITIES} onChange={setPriority} />
        </FieldPair>
        {open.isError && <Failure error={open.error} word="Not opened" kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={open.isPending}>
            Open the job
          </Button>
          <ButtonLink look="plain" href="/jobs">
            Leave it
          </ButtonLink>
        </Acts>
      </Form>
    </>
  );
}
