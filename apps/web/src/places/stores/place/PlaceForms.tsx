import type { ContentsMoved, PlaceCarried, PlacePage } from '@corewright/contracts/places';
import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { CheckField } from '../../../ui/CheckField.js';
import { Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { sayThings } from '../say-things.js';
import { useCarryPlace, useClosing, useMoveContents } from './actions.js';
import { PlaceField } from './PlaceField.js';

interface FormProps<Done> {
  readonly place: PlacePage;
  readonly onDone: (done: Done) => void;
  readonly onClose: () => void;
}

const chooseFirst = 'Choose the place from the list, or scan its label.';

/** Everything that lies here goes to another place. */
export function MoveContentsForm({ place, onDone, onClose }: FormProps<ContentsMoved>) {
  const [placeId, setPlaceId] = useState<string | null>(null);
  const [wasTried, setWasTried] = useState(false);
  const moving = useMoveContents(place.id, onDone);
  const submit = () => {
    setWasTried(true);
    if (placeId !== null && !moving.isPending) moving.mutate(placeId);
  };
  return (
    <Form label={`Move all that lies in ${place.name}`} onSubmit={submit}>
      <p>
        {sayThings(place.contents.length)} by the books. What stands in it as a place of its own stays. What was looked for and
        not found stays marked here.
      </p>
      <PlaceField label="Where all of it goes" onPlace={setPlaceId} error={wasTried && placeId === null ? chooseFirst : null} />
      {moving.isError && <Failure error={moving.error} word="Not moved" kept="What you chose is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={moving.isPending}>
          Move all of it
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}

/** The place itself is carried elsewhere, with what is in it. */
export function CarryForm({ place, onDone, onClose }: FormProps<PlaceCarried>) {
  const [placeId, setPlaceId] = useState<string | null>(null);
  const [byItself, setByItself] = useState(false);
  const [wasTried, setWasTried] = useState(false);
  const carrying = useCarryPlace(place, onDone);
  const submit = () => {
    setWasTried(true);
    if ((placeId !== null || byItself) && !carrying.isPending) carrying.mutate({ parentId: byItself ? null : placeId });
  };
  return (
    <Form label={`Carry ${place.name} elsewhere`} onSubmit={submit}>
      <p>It keeps its code, and all that lies and stands in it goes along.</p>
      {!byItself && (
        <PlaceField label="Where it stands then" onPlace={setPlaceId} error={wasTried && placeId === null ? chooseFirst : null} />
      )}
      {place.parentId !== null && (
        <CheckField isSelected={byItself} onChange={setByItself}>
          It stands in no other place
        </CheckField>
      )}
      {carrying.isError && <Failure error={carrying.error} word="Not carried" kept="What you chose is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={carrying.isPending}>
          It stands there
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}

/** An empty place is closed, or a closed one opened again. */
export function CloseForm({ place, onDone, onClose }: FormProps<void>) {
  // news of the place may come before the answer: what is pressed here stays what it was when this was opened
  const [isClosed] = useState(place.isClosed);
  const closing = useClosing(place, () => onDone());
  return (
    <Form label={isClosed ? `Open ${place.name} again` : `Close ${place.name}`} onSubmit={() => closing.mutate(!isClosed)}>
      <p>
        {isClosed
          ? 'It takes goods and places again.'
          : 'It takes no goods from then on. Its code stays and is given to nothing else, and where things have been stays on the record.'}
      </p>
      {closing.isError && <Failure error={closing.error} word={isClosed ? 'Not opened' : 'Not closed'} />}
      <Acts>
        <Button look="main" type="submit" isPending={closing.isPending}>
          {isClosed ? 'Open it again' : 'Close it'}
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}
