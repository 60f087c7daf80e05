import { type ReactNode, useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Failure } from '../../../ui/Problem.js';
import { TextField } from '../../../ui/TextField.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useHold, useHoldOn, useHoldPlace, useLift } from './apart-actions.js';
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
    <HoldEditor
      label="Hold it back"
      isPending={hold.isPending}
      error={hold.error}
      onHold={(keyed) => hold.mutate(holdOf(keyed))}
      onClose={onClose}
    >
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
      isPending={hold.isPending}
      error={hold.error}
      onHold={(keyed) => hold.mutate(holdOf(keyed))}
      onClose={() => onClose('')}
    >
      <p>All that lies here by the books is held back; what is held back already keeps its own reason.</p>
    </HoldEditor>
  );
}

interface HoldEditorProps {
  readonly label: string;
  readonly isPending: boolean;
  readonly error: Error | null;
  readonly onHold: (keyed: HoldKeyed) => void;
  readonly onClose: () => void;
  readonly children?: ReactNode;
}

function HoldEditor({ label, isPending, error, onHold, onClose, children }: HoldEditorProps) {
  const [keyed, setKeyed] = useState(noHoldKeyed);
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (keyed.reason.trim() !== '' && !isPending) onHold(keyed);
  };
  return (
    <Form label={label} onSubmit={submit}>
      {children}
      <HoldFields keyed={keyed} onKey={setKeyed} wasTried={wasTried} />
      {error !== null && <Failure error={error} word="Not held back" kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={isPending}>
          Hold it back
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
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
      isPending={lift.isPending}
      error={lift.error}
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
      <TextField
        label="What was seen or said"
        value={words}
        onChange={setWords}
        error={wasTried && words.trim() === '' ? 'Say what was seen or said.' : null}
        autoFocus
        maxLength={150}
      />
      <TextField
        label="Look again on"
        type="date"
        value={lookAgainOn}
        onChange={setLookAgainOn}
        note="empty: nobody is reminded"
      />
      <FormFoot act="Keep it held back" failed="Not put down" sending={holdOn} onClose={onClose} />
    </Form>
  );
}
