import { type ReactNode, useState } from 'react';
import { Form } from '../../../ui/Form.js';
import { FormFoot, type FormFootProps } from '../../../ui/FormFoot.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useHold, useHoldOn, useHoldPlace, useLift } from './apart-actions.js';
import { LookAgainField, NeededField } from './Fields.js';
import { HoldFields, type HoldKeyed, holdOf, noHoldKeyed } from './HoldFields.js';

export interface ThingInHand {
  readonly id: string;
  readonly code: string;
  readonly version: number;
}

interface ThingFormProps {
  readonly thing: ThingInHand;
  readonly onClose: () => void;
}

/** Holds one thing back. A hold is on the whole of it: where some of a lot are sound, these are put into a lot of their own first. */
export function HoldForm({ thing, isSeveral, onClose }: ThingFormProps & { readonly isSeveral: boolean }) {
  const hold = useHold(thing, onClose);
  return (
    <HoldEditor label="Hold it back" sending={hold} onHold={(keyed) => hold.mutate(holdOf(keyed))} onClose={onClose}>
      {isSeveral && (
        <p>
          The hold is on all of this lot, wherever it lies. Where only some are doubtful, put those into a lot of their own first.
        </p>
      )}
    </HoldEditor>
  );
}

/** Holds back all that lies in a place, for one reason. */
export function HoldPlaceForm({
  place,
  onClose,
}: {
  readonly place: { id: string; path: string };
  readonly onClose: (words: string) => void;
}) {
  const hold = useHoldPlace(place.id, ({ words }) => onClose(words));
  return (
    <HoldEditor
      label={`Hold back all in ${place.path}`}
      sending={hold}
      onHold={(keyed) => hold.mutate(holdOf(keyed))}
      onClose={() => onClose('')}
    >
      <p>All that lies here by the books is held back; what is held back already keeps its own reason.</p>
    </HoldEditor>
  );
}

interface HoldEditorProps {
  readonly label: string;
  readonly sending: FormFootProps['sending'];
  readonly onHold: (keyed: HoldKeyed) => void;
  readonly onClose: () => void;
  readonly children?: ReactNode;
}

function HoldEditor({ label, sending, onHold, onClose, children }: HoldEditorProps) {
  const [keyed, setKeyed] = useState(noHoldKeyed);
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (keyed.reason.trim() !== '' && !sending.isPending) onHold(keyed);
  };
  return (
    <Form label={label} onSubmit={submit}>
      {children}
      <HoldFields keyed={keyed} onKey={setKeyed} wasTried={wasTried} />
      <FormFoot act="Hold it back" failed="Not held back" sending={sending} onClose={onClose} />
    </Form>
  );
}

export function LiftForm({ thing, onClose }: ThingFormProps) {
  const lift = useLift(thing, onClose);
  return (
    <WhyForm
      label="Lift the hold"
      question="Why the hold is lifted"
      note="it stays on the record with your name"
      act="Lift the hold"
      failed="Not lifted"
      sending={lift}
      onWhy={(reason) => lift.mutate({ reason })}
      onClose={onClose}
    />
  );
}

/** Somebody looked again, and it stays held back. */
export function HoldOnForm({ thing, onClose }: ThingFormProps) {
  const holdOn = useHoldOn(thing, onClose);
  const [words, setWords] = useState('');
  const [lookAgainOn, setLookAgainOn] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (words.trim() === '' || holdOn.isPending) return;
    holdOn.mutate({ words, lookAgainOn: lookAgainOn === '' ? null : lookAgainOn });
  };
  return (
    <Form label={`Keep ${thing.code} held back`} onSubmit={submit}>
      <NeededField
        label="What was seen or said"
        value={words}
        onChange={setWords}
        missing="Say what was seen or said."
        wasTried={wasTried}
        autoFocus
        maxLength={150}
      />
      <LookAgainField value={lookAgainOn} onChange={setLookAgainOn} note="empty: nobody is reminded" wasTried={wasTried} />
      <FormFoot act="Keep it held back" failed="Not put down" sending={holdOn} onClose={onClose} />
    </Form>
  );
}
