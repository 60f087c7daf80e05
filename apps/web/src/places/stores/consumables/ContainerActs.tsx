import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Failure } from '../../../ui/Problem.js';
import { TextField } from '../../../ui/TextField.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { PlaceField } from '../place/PlaceField.js';
import { useContainerEnd, useContainerFound, useNotOpened } from './consumable-actions.js';

interface ContainerProps {
  readonly thingId: string;
  readonly code: string;
}

/** What becomes of an open container. */
export function OpenActs({ thingId, code }: ContainerProps) {
  const { which, open, close } = useOneForm<'thrown away' | 'not opened'>();
  const emptied = useContainerEnd(thingId, () => undefined);
  if (which === 'thrown away') return <ThrowAwayForm thingId={thingId} code={code} onClose={close} />;
  if (which === 'not opened') return <NotOpenedForm thingId={thingId} code={code} onClose={close} />;
  return (
    <>
      {emptied.isError && <Failure error={emptied.error} word="Not booked" />}
      <Acts>
        <Button label={`It is empty: ${code}`} isPending={emptied.isPending} onPress={() => emptied.mutate({ how: 'empty' })}>
          It is empty
        </Button>
        <Button label={`Thrown away: ${code}`} onPress={() => open('thrown away')}>
          Thrown away
        </Button>
        <Button label={`Not opened after all: ${code}`} look="plain" onPress={() => open('not opened')}>
          Not opened after all
        </Button>
      </Acts>
    </>
  );
}

interface EndProps extends ContainerProps {
  readonly onClose: () => void;
}

function ThrowAwayForm({ thingId, code, onClose }: EndProps) {
  const end = useContainerEnd(thingId, onClose);
  return (
    <WhyForm
      label={`Throw away ${code}`}
      question="Why it is thrown away"
      note="past use-by, gone hard, spilt; what is thrown away goes by the maker’s data sheet and local codes"
      act="It is thrown away"
      failed="Not booked"
      sending={end}
      onWhy={(words) => end.mutate({ how: 'thrown away', words })}
      onClose={onClose}
    />
  );
}

function NotOpenedForm({ thingId, code, onClose }: EndProps) {
  const notOpened = useNotOpened(thingId, onClose);
  return (
    <WhyForm
      label={`Not opened: ${code}`}
      question="Why it is full after all"
      note="it stays on the record; the container is full again"
      act="It was not opened"
      failed="Not booked"
      sending={notOpened}
      onWhy={(why) => notOpened.mutate(why)}
      onClose={onClose}
    />
  );
}

/** What was said to be empty or thrown away, and is not. */
export function FoundForm({ thingId, onClose }: { readonly thingId: string; readonly onClose: () => void }) {
  const found = useContainerFound(thingId, onClose);
  const [placeId, setPlaceId] = useState<string | null>(null);
  const [words, setWords] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (!found.isPending && placeId !== null) found.mutate({ placeId, words });
  };
  return (
    <Form label="Something is left in it" onSubmit={submit}>
      <PlaceField
        label="Where it stands"
        onPlace={setPlaceId}
        error={wasTried && placeId === null ? 'Scan the place, or choose it from the list.' : null}
      />
      <TextField
        label="How much is left"
        value={words}
        onChange={setWords}
        note="half full, a third; it may stay empty"
        maxLength={200}
      />
      <FormFoot act="It is here" failed="Not booked" sending={found} onClose={onClose} />
    </Form>
  );
}
