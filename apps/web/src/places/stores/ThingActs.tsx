import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { PictureButton } from '../goods-in/PictureButton.js';
import { useHoldChange } from './actions.js';
import { InspectForm } from './InspectForm.js';
import { PreserveForm } from './PreserveForm.js';
import styles from './ThingScreen.module.css';

/** What can be done with a thing from its page: label it again, photograph it, inspect it, hold it back, begin its job. */
export function ThingActs({ thing }: { readonly thing: Thing }) {
  const [form, setForm] = useState<'hold' | 'inspect' | 'preserve' | null>(null);
  const close = () => setForm(null);
  return (
    <div>
      <Acts>
        <ButtonLink href={`/labels/${thing.code}`}>Label, again</ButtonLink>
        <PictureButton subjectId={thing.id} taken={thing.pictures.length} />
        {thing.kind === 'unit' && thing.job === null && (
          <ButtonLink href={`/jobs/new?unit=${thing.code}`}>Open a job on it</ButtonLink>
        )}
        {thing.kind === 'lot' && form !== 'inspect' && <Button onPress={() => setForm('inspect')}>Inspect it</Button>}
        {thing.kind === 'lot' && thing.canBeBearing && form !== 'preserve' && (
          <Button onPress={() => setForm('preserve')}>Bearing: how preserved</Button>
        )}
        {form !== 'hold' && (
          <Button onPress={() => setForm('hold')}>{thing.heldBack === null ? 'Hold it back' : 'Lift the hold'}</Button>
        )}
      </Acts>
      {form === 'hold' && <HoldForm thing={thing} onClose={close} />}
      {form === 'preserve' && thing.kind === 'lot' && <PreserveForm lot={thing} onClose={close} />}
      {form === 'inspect' && thing.kind === 'lot' && <InspectForm lot={thing} onClose={close} />}
    </div>
  );
}

function HoldForm({ thing, onClose }: { readonly thing: Thing; readonly onClose: () => void }) {
  const holds = thing.heldBack === null;
  const [reason, setReason] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const change = useHoldChange(thing, onClose);
  const submit = () => {
    setWasTried(true);
    if (reason.trim() !== '' && !change.isPending) change.mutate({ holds, reason });
  };
  return (
    <div className={styles.hold}>
      <Form label={holds ? 'Hold it back' : 'Lift the hold'} onSubmit={submit}>
        <TextField
          label={holds ? 'Why it is held back' : 'Why the hold is lifted'}
          value={reason}
          onChange={setReason}
          note="it stays on the record with your name"
          error={wasTried && reason.trim() === '' ? 'Say why.' : null}
          autoFocus
          maxLength={200}
        />
        {change.isError && <Failure error={change.error} kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            {holds ? 'Hold it back' : 'Lift the hold'}
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
