import { OpeningShelf } from '@corewright/contracts/opening-stock';
import { useRouter } from '@tanstack/react-router';
import { useState } from 'react';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Fold } from '../../../ui/Fold.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { useStoresChange } from '../actions.js';
import { PlaceField } from '../place/PlaceField.js';

const KINDS = [
  { value: 'bin', label: 'bin or shelf' },
  { value: 'rack', label: 'rack' },
  { value: 'area', label: 'area' },
  { value: 'site', label: 'site' },
  { value: 'quarantine', label: 'quarantine' },
] as const;
type Kind = (typeof KINDS)[number]['value'];

/** A place that is in no book yet is added on the spot, and opened. */
export function AddShelf({ parent }: { readonly parent: { readonly parentId: string | null } | null }) {
  const router = useRouter();
  // the next shelf stands beside this one, as a rule
  const [inside, setInside] = useState({ id: parent?.parentId ?? null, text: '' });
  const [name, setName] = useState('');
  const [kind, setKind] = useState<Kind>('bin');
  const [id] = useState(newKey);
  const [wasTried, setWasTried] = useState(false);
  const adding = useStoresChange(
    (shelf: OpeningShelf) => router.history.push(`/stores/opening/shelf/${shelf.place.id}`),
    () => api.send(OpeningShelf, 'POST', '/api/opening/places', { id, name, kind, parentId: inside.id }, { key: newKey() }),
  );
  const isUnclear = inside.id === null && inside.text.trim() !== '';
  const submit = () => {
    setWasTried(true);
    if (name.trim() !== '' && !isUnclear && !adding.isPending) adding.mutate(undefined);
  };
  return (
    <Fold summary="A place that is not in the books yet">
      <Form label="A new place" onSubmit={submit}>
        <FieldPair>
          <TextField
            label="What it is called"
            value={name}
            onChange={setName}
            note="as you would write it on the shelf: B 14"
            error={wasTried && name.trim() === '' ? 'Give it a name or a number.' : null}
            maxLength={200}
          />
          <SelectField label="It is a" value={kind} choices={KINDS} onChange={setKind} />
        </FieldPair>
        <PlaceField
          label="Inside"
          placeId={inside.id}
          onPlace={(placeId, text) => setInside({ id: placeId, text })}
          note="a word of its way or its nickname; empty where it stands by itself"
          isQuiet
          error={wasTried && isUnclear ? 'Choose the place from the list, or leave the field empty.' : null}
        />
        {adding.isError && <Failure error={adding.error} word="Not added" kept="What you keyed is kept." />}
        <Acts>
          <Button type="submit" isPending={adding.isPending}>
            Add it and open it
          </Button>
        </Acts>
      </Form>
    </Fold>
  );
}
