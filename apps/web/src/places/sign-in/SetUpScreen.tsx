import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { TextField } from '../../ui/TextField.js';
import { useSetUp } from './actions.js';
import { Doorstep } from './Doorstep.js';
import { EntryFailure } from './EntryFailure.js';

/** The first time: the workshop's name and its first person, the owner. The link was printed by the server and works once. */
export function SetUpScreen({ token }: { readonly token: string }) {
  const [keyed, setKeyed] = useState({ workshopName: '', displayName: '', signInName: '', passPhrase: '' });
  const setUp = useSetUp();
  const set = (name: keyof typeof keyed) => (value: string) => setKeyed({ ...keyed, [name]: value });
  const faultOf = (name: keyof typeof keyed) => fieldWords(setUp.error, name);
  const { timeZone } = Intl.DateTimeFormat().resolvedOptions();

  return (
    <Doorstep title="Set up the workshop">
      <p className="read">You are its first person and its owner. Others are added in Settings.</p>
      <Form label="Set up the workshop" onSubmit={() => setUp.mutate({ token, timeZone, locale: navigator.language, ...keyed })}>
        <TextField
          label="The workshop’s name"
          value={keyed.workshopName}
          onChange={set('workshopName')}
          error={faultOf('workshopName')}
          isRequired
          autoFocus
        />
        <TextField
          label="Your name"
          value={keyed.displayName}
          onChange={set('displayName')}
          error={faultOf('displayName')}
          autoComplete="name"
          isRequired
        />
        <TextField
          label="Sign-in name"
          value={keyed.signInName}
          onChange={set('signInName')}
          error={faultOf('signInName')}
          autoComplete="username"
          note="Short, in small letters: edie"
          isRequired
        />
        <TextField
          label="Pass phrase"
          type="password"
          value={keyed.passPhrase}
          onChange={set('passPhrase')}
          error={faultOf('passPhrase')}
          autoComplete="new-password"
          note="Ten characters or more; a few words in a row are easy to keep."
          isRequired
        />
        <p className="quiet">Times are kept in {timeZone}; dates are written as this browser writes them.</p>
        <Button type="submit" look="main" isPending={setUp.isPending}>
          Set it up
        </Button>
      </Form>
      <EntryFailure error={setUp.error} word="Not set up" fields={Object.keys(keyed)} />
    </Doorstep>
  );
}
