import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Failure } from '../../../ui/Problem.js';
import { TextField } from '../../../ui/TextField.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { PlaceField } from '../place/PlaceField.js';
import { useContainerEnd, useContainerFound, useNotOpened } from './consumable-actions.js';

/** What becomes of an open container. */
export function OpenActs({ thingId, code }: { readonly thingId: string; readonly code: string }) {
  const [form, setForm] = useState<'thrown away' | 'not opened' | null>(null);
  const close = () => setForm(null);
  const end = useContainerEnd(thingId, close);
  const notOpened = useNotOpened(thingId, close);
  if (form === 'thrown away')
    return (
      <WhyForm
        label={`Throw away ${code}`}
        question="Why it is thrown away"
        note="past use-by, gone hard, spilt; what is thrown away goes by the maker’s data sheet and local codes"
        act="It is thrown away"
        failed="Not booked"
        isPending={end.isPending}
        error={end.error}
        onWhy={(words) => end.mutate({ how: 'thrown away', words })}
        onClose={close}
      />
    );
  if (form === 'not opened')
    return (
      <WhyForm
        label={`Not opened: ${code}`}
        question="Why it is full after all"
        note="it stays on the record; the container is full again"
        act="It was not opened"
        failed="Not booked"
        isPending={notOpened.isPending}
        error={notOpened.error}
        onWhy={(why) => notOpened.mutate(why)}
        onClose={close}
      />
    );
  return (
    <>
      {end.isError && <Failure error={end.error} word="Not booked" />}
      <Acts>
        <Button label={`It is empty: ${code}`} isPending={end.isPending} onPress={() => end.mutate({ how: 'empty' })}>
          It is empty
        </Button>
        <Button label={`Thrown away: ${code}`} onPress={() => setForm('thrown away')}>
          Thrown away
        </Button>
        <Button label={`Not opened after all: ${code}`} look="plain" onPress={() => setForm('not opened')}>
          Not opened after all
        </Button>
      </Acts>
    </>
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
