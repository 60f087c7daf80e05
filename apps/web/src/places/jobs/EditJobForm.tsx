import { JobState } from '@corewright/contracts/base';
import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { versionShownBy } from '../../api/problem.js';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { useJobChange } from './actions.js';
import { PRIORITIES, STANDARDS } from './NewJobScreen.js';

/** The job's own facts: title, wish, standard, priority, stage. */
export function EditJobForm({ job, onClose }: { readonly job: JobCard; readonly onClose: () => void }) {
  const [title, setTitle] = useState(job.title);
  const [wanted, setWanted] = useState(job.wanted);
  const [buildStandard, setBuildStandard] = useState(job.buildStandard);
  const [priority, setPriority] = useState(PRIORITIES[job.priority - 1]?.value ?? '3');
  const [state, setState] = useState(job.state);
  // the version that was seen when the form was opened: what somebody else changes meanwhile is not overwritten unsaid
  const [version, setVersion] = useState(job.version);
  const change = useJobChange(job.id, onClose);
  const submit = () =>
    change.mutate(
      { kind: 'job', version, title, wanted, buildStandard, priority: Number(priority), state },
      { onError: (error) => setVersion(versionShownBy(error, version)) },
    );
  return (
    <Form label="Change the job" onSubmit={submit}>
      <SelectField
        label="Stage"
        value={state}
        choices={JobState.options.map((option) => ({ value: option, label: option }))}
        onChange={setState}
      />
      <SelectField label="Priority" value={priority} choices={PRIORITIES} onChange={setPriority} />
      <SelectField label="Build standard" value={buildStandard} choices={STANDARDS} onChange={setBuildStandard} />
      <TextField
        label="Title"
        value={title}
        onChange={setTitle}
        maxLength={200}
        error={title.trim() === '' ? 'A job has a title.' : null}
      />
      <TextField label="What is wanted" value={wanted} onChange={setWanted} lines={3} />
      <FormFoot act="Change it" failed="Not changed" sending={change} onClose={onClose} />
    </Form>
  );
}
