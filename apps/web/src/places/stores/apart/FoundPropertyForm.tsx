import type { KeptForOwner } from '@corewright/contracts/goods-apart';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { meQuery } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { dayOf } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { PlaceField } from '../place/PlaceField.js';
import { useFoundProperty } from './apart-actions.js';
import { AskWhomField, DayField, LookAgainField, NeededField, onItsTag } from './Fields.js';

export interface FoundPropertyFormProps {
  readonly onDone: (kept: KeptForOwner) => void;
  readonly onClose: () => void;
}

/** Something turned up, and nobody knows whose it is: what, where, by whom, where it lies now, and when to look again. */
export function FoundPropertyForm({ onDone, onClose }: FoundPropertyFormProps) {
  const found = useFoundProperty(onDone);
  const { data: me } = useQuery(meQuery);
  const [ids] = useState(() => ({ id: newKey(), thingId: newKey() }));
  const [keyed, setKeyed] = useState(() => ({ ...empty, since: dayOf(new Date()) }));
  const [placeId, setPlaceId] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const foundBy = keyed.foundBy ?? me?.displayName ?? '';
  const put = (part: Partial<typeof keyed>) => setKeyed({ ...keyed, ...part });
  const lacks = [keyed.name, keyed.foundWhere, foundBy, keyed.since, keyed.lookAgainOn, placeId].some(
    (text) => text.trim() === '',
  );
  const submit = () => {
    setWasTried(true);
    if (!lacks && !found.isPending) found.mutate({ ...ids, ...keyed, foundBy, placeId });
  };
  return (
    <Form label="Something was found" onSubmit={submit}>
      <FieldPair>
        <NeededField
          label="What it is"
          value={keyed.name}
          onChange={(name) => put({ name })}
          missing="Say what it is, in a few words."
          wasTried={wasTried}
          autoFocus
        />
        <TextField label="How many" value={keyed.quantity} onChange={(quantity) => put({ quantity })} inputMode="numeric" />
      </FieldPair>
      <FieldPair>
        <NeededField
          label="Where it was found"
          value={keyed.foundWhere}
          onChange={(foundWhere) => put({ foundWhere })}
          missing="Say where it was found."
          wasTried={wasTried}
          maxLength={150}
        />
        <NeededField
          label="By whom"
          value={foundBy}
          onChange={(by) => put({ foundBy: by })}
          missing="Say who found it."
          wasTried={wasTried}
        />
      </FieldPair>
      <FieldPair>
        <DayField label="On" value={keyed.since} onChange={(since) => put({ since })} wasTried={wasTried} />
        <PlaceField
          label="Where it lies now"
          onPlace={(id) => setPlaceId(id ?? '')}
          isFirst={false}
          error={wasTried && placeId === '' ? 'Say where it lies: scan the place, or choose it from the list.' : null}
        />
      </FieldPair>
      <FieldPair>
        <AskWhomField value={keyed.askWhom} onChange={(askWhom) => put({ askWhom })} note="who was here, who may know" />
        <LookAgainField
          value={keyed.lookAgainOn}
          onChange={(lookAgainOn) => put({ lookAgainOn })}
          note={onItsTag}
          isNeeded
          wasTried={wasTried}
        />
      </FieldPair>
      <FormFoot act="Write it down" failed="Not written down" sending={found} onClose={onClose} />
    </Form>
  );
}

const empty = {
  name: '',
  quantity: '1',
  foundWhere: '',
  // null: whoever is signed in, until something else is keyed
  foundBy: null as string | null,
  askWhom: '',
  lookAgainOn: '',
};
