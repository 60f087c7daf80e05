import type { PlacePage } from '@corewright/contracts/places';
import { mayStandIn } from '@corewright/contracts/places';
import type { PlaceBrief, PlaceKind } from '@corewright/contracts/stores';
import { useState } from 'react';
import { fieldWords } from '../../../api/field-words.js';
import { newKey } from '../../../api/uuid.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { useAddPlace, useEditPlace } from './actions.js';

const kinds: readonly PlaceKind[] = ['site', 'area', 'rack', 'bin', 'quarantine'];

interface Keyed {
  readonly name: string;
  readonly kind: PlaceKind;
  readonly nicknames: string;
}

interface FieldsProps {
  readonly keyed: Keyed;
  readonly onKeyed: (keyed: Keyed) => void;
  readonly choices: readonly PlaceKind[];
  readonly error: Error | null;
}

function Fields({ keyed, onKeyed, choices, error }: FieldsProps) {
  return (
    <>
      <FieldPair>
        <TextField
          label="What it is called"
          value={keyed.name}
          onChange={(name) => onKeyed({ ...keyed, name })}
          error={fieldWords(error, 'name')}
          maxLength={200}
          autoFocus
        />
        <SelectField
          label="What it is"
          value={keyed.kind}
          choices={choices.map((kind) => ({ value: kind, label: kind }))}
          onChange={(kind) => onKeyed({ ...keyed, kind })}
          error={fieldWords(error, 'kind')}
        />
      </FieldPair>
      <TextField
        label="What people call it too"
        value={keyed.nicknames}
        onChange={(nicknames) => onKeyed({ ...keyed, nicknames })}
        note="found by these as well; a semicolon between two"
        maxLength={200}
      />
    </>
  );
}

/** What a place is called and what it is. */
export function EditPlaceForm({ place, onClose }: { readonly place: PlacePage; readonly onClose: () => void }) {
  const [keyed, setKeyed] = useState<Keyed>({ name: place.name, kind: place.kind, nicknames: place.nicknames });
  const editing = useEditPlace(place, onClose);
  return (
    <Form label={`What ${place.name} is`} onSubmit={() => editing.mutate({ ...keyed, name: keyed.name.trim() })}>
      <Fields keyed={keyed} onKeyed={setKeyed} choices={place.kind === 'tray' ? ['tray'] : kinds} error={editing.error} />
      <FormFoot act="Change it" failed="Not changed" sending={editing} onClose={onClose} />
    </Form>
  );
}

export interface AddPlaceFormProps {
  /** null: it stands in no other place */
  readonly around: { readonly id: string; readonly name: string; readonly kind: PlaceKind } | null;
  readonly onDone: (place: PlaceBrief) => void;
  readonly onClose: () => void;
}

/** A further place; it gets its code at once. */
export function AddPlaceForm({ around, onDone, onClose }: AddPlaceFormProps) {
  const choices = kinds.filter((kind) => around === null || mayStandIn(kind, around.kind));
  const usual: PlaceKind = around === null ? 'area' : around.kind === 'rack' || around.kind === 'bin' ? 'bin' : 'rack';
  const [keyed, setKeyed] = useState<Keyed>({ name: '', kind: usual, nicknames: '' });
  const adding = useAddPlace(onDone);
  const submit = () => {
    if (!adding.isPending) adding.mutate({ id: newKey(), parentId: around?.id ?? null, ...keyed, name: keyed.name.trim() });
  };
  return (
    <Form label={around === null ? 'A further place' : `A further place in ${around.name}`} onSubmit={submit}>
      <Fields keyed={keyed} onKeyed={setKeyed} choices={choices} error={adding.error} />
      <FormFoot act="Add it" failed="Not added" sending={adding} onClose={onClose} />
    </Form>
  );
}
