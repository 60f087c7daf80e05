import { Called } from '@corewright/contracts/nicknames';
import { SearchAnswer } from '@corewright/contracts/stores';
import { useState } from 'react';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import { ComboField } from '../../ui/ComboField.js';
import type { ComboSource } from '../../ui/combo-options.js';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { useStoresChange } from './actions.js';

/** Parts and places by whatever they are called so far; its id says which of the two it is. */
const findNameable: ComboSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const { hits } = await api.get(SearchAnswer, `/api/search?limit=30&q=${encodeURIComponent(typed)}`, { signal });
  return hits
    .filter(({ kind }) => kind === 'part' || kind === 'place')
    .map(({ kind, id, name, detail, where }) => ({
      id: `${kind}s/${id}`,
      label: kind === 'place' ? where : `${name}, ${detail}`,
      note: kind,
    }));
};

interface CallItThatProps {
  /** What was looked for in vain. */
  readonly words: string;
  readonly onClose: () => void;
}

/** Nothing is called that yet: whoever knows what is meant says so, and the next one finds it. */
export function CallItThat({ words, onClose }: CallItThatProps) {
  const [meant, setMeant] = useState({ id: '', text: '' });
  const [error, setError] = useState<string | null>(null);
  const calling = useStoresChange(onClose, (path: string) =>
    api.send(Called, 'POST', `/api/${path}/nicknames`, { words }, { key: newKey() }),
  );
  const submit = () => {
    if (meant.id === '') return setError('Choose what it is from the list.');
    setError(null);
    if (!calling.isPending) calling.mutate(meant.id);
  };
  return (
    <Form label={`Call something “${words}”`} onSubmit={submit}>
      <ComboField
        label={`What is called “${words}”`}
        text={meant.text}
        onText={(text) => setMeant({ id: '', text })}
        onChoose={({ id, label }) => setMeant({ id, text: label })}
        source={findNameable}
        note="a part or a place, by its number, its name or its code"
        error={error}
        autoFocus
      />
      <FormFoot act="Call it that" failed="Not kept" sending={calling} onClose={onClose} />
    </Form>
  );
}
