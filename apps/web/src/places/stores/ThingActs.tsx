import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { PictureButton } from '../goods-in/PictureButton.js';
import { useHoldChange } from './actions.js';
import { InspectForm } from './InspectForm.js';
import { PreserveForm } from './PreserveForm.js';
import styles from './ThingScreen.module.css';

/** What can be done with a thing from its page: label it again, photograph it, inspect it, hold it back, begin its job. */
export function ThingActs({ thing }: { readonly thing: Thing }) {
  const [form, setForm] = useState<'hold' | 'inspect' | 'preserve' | null>(null);
  const mayChange = useKeepsBooks();
  const close = () => setForm(null);
  return (
    <div>
      <Acts>
        <ButtonLink href={`/labels/${thing.code}`}>Label, again</ButtonLink>
        <PictureButton subjectId={thing.id} taken={thing.pictures.length} />
        {thing.kind === 'unit' && thing.job === null && (
          <ButtonLink href={`/jobs/new?unit=${thing.code}`}>Open a job on it</ButtonLink>
        )}
        {thing.kind === 'unit' && <ButtonLink href={`/stores/things/${thing.id}/identify`}>What is it?</ButtonLink>}
        {mayChange && thing.kind === 'lot' && form !== 'inspect' && (
          <Button onPress={() => setForm('inspect')}>Inspect it</Button>
        )}
        {mayChange && thing.kind === 'lot' && thing.canBeBearing && form !== 'preserve' && (
          <Button onPress={() => setForm('preserve')}>Bearing: how preserved</Button>
        )}
        {mayChange && form !== 'hold' && (
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
  const change = useHoldChange(thing, onClose);
  return (
    <div className={styles.hold}>
      <WhyForm
        label={holds ? 'Hold it back' : 'Lift the hold'}
        question={holds ? 'Why it is held back' : 'Why the hold is lifted'}
        note="it stays on the record with your name"
        act={holds ? 'Hold it back' : 'Lift the hold'}
        failed={holds ? 'Not held back' : 'Not lifted'}
        isPending={change.isPending}
        error={change.error}
        onWhy={(reason) => change.mutate({ holds, reason })}
        onClose={onClose}
      />
    </div>
  );
}
