import type { ContainerOpened } from '@corewright/contracts/consumables';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { workshopQuery } from '../../../api/session.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { TextField } from '../../../ui/TextField.js';
import { useOpening } from './consumable-actions.js';

export interface OpenFormProps {
  /** what is opened, for ears and eyes: "Sealant, one cartridge" */
  readonly what: string;
  readonly thingId: string;
  /** the last of its lot bears the label of the lot already */
  readonly mayLabel: boolean;
  readonly onOpened: (opened: ContainerOpened) => void;
  readonly onClose: () => void;
}

type Since = 'today' | 'day' | 'unknown';

/** Opens a full container, or says that one was found open. */
export function OpenForm({ what, thingId, mayLabel, onOpened, onClose }: OpenFormProps) {
  const today = useQuery(workshopQuery).data?.today ?? '';
  const [since, setSince] = useState<Since>('today');
  const [day, setDay] = useState('');
  const [label, setLabel] = useState('');
  const opening = useOpening(onOpened);
  useScanTaker((parsed) => {
    if (!mayLabel || parsed.kind !== 'L') return false;
    setLabel(parsed.code);
    return true;
  });
  const openedOn = since === 'unknown' ? null : since === 'today' ? today : day;
  const submit = () => {
    if (!opening.isPending && openedOn !== '') opening.mutate({ thingId, openedOn, label });
  };
  return (
    <Form label={`Open ${what}`} onSubmit={submit}>
      <RadioRow<Since>
        label="Opened"
        value={since}
        choices={[
          { value: 'today', label: 'today' },
          { value: 'day', label: 'on another day' },
          { value: 'unknown', label: 'found open, nobody knows when' },
        ]}
        onChange={setSince}
      />
      <FieldPair>
        {since === 'day' && <TextField label="Opened on" type="date" value={day} onChange={setDay} isRequired />}
        {mayLabel && (
          <TextField
            label="Blank label put on it"
            value={label}
            onChange={setLabel}
            note="scan it; empty where you write on the container"
            maxLength={64}
          />
        )}
      </FieldPair>
      <FormFoot act="Open it" failed="Not opened" sending={opening} onClose={onClose} />
    </Form>
  );
}
