import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { TextField } from '../../ui/TextField.js';
import { useNewPassPhrase } from './actions.js';
import { Doorstep } from './Doorstep.js';
import { EntryFailure } from './EntryFailure.js';

/** Opened by a one-time link from the owner: choose a pass phrase, and be signed in with it. */
export function PassPhraseScreen({ token }: { readonly token: string }) {
  const [passPhrase, setPassPhrase] = useState('');
  const choose = useNewPassPhrase();
  return (
    <Doorstep title="Choose a pass phrase">
      <Form label="Choose a pass phrase" onSubmit={() => choose.mutate({ token, passPhrase })}>
        <TextField
          label="Pass phrase"
          type="password"
          value={passPhrase}
          onChange={setPassPhrase}
          error={fieldWords(choose.error, 'passPhrase')}
          autoComplete="new-password"
          note="Ten characters or more; a few words in a row are easy to keep."
          isRequired
          autoFocus
        />
        <Button type="submit" look="main" isPending={choose.isPending}>
          Keep it and sign in
        </Button>
      </Form>
      <EntryFailure error={choose.error} word="Not kept" fields={['passPhrase']} />
    </Doorstep>
  );
}
