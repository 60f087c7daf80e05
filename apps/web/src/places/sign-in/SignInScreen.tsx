import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { workshopQuery } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { Empty } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { TextField } from '../../ui/TextField.js';
import { useSignIn } from './actions.js';
import { Doorstep } from './Doorstep.js';
import { EntryFailure } from './EntryFailure.js';

/** Name and pass phrase. A workshop that was never set up says how that is done. */
export function SignInScreen({ returnTo }: { readonly returnTo: string }) {
  const workshop = useQuery(workshopQuery);
  const [signInName, setSignInName] = useState('');
  const [passPhrase, setPassPhrase] = useState('');
  const signIn = useSignIn(returnTo);

  if (workshop.data?.needsSetUp === true) {
    return (
      <Doorstep title="This workshop is not set up yet">
        <Empty title="Open the set-up link">
          The terminal in which the server was started has printed it. It works once. If it has scrolled away, start the server
          again: it prints a new one.
        </Empty>
      </Doorstep>
    );
  }
  return (
    <Doorstep title="Sign in">
      <Form label="Sign in" onSubmit={() => signIn.mutate({ signInName, passPhrase })}>
        <TextField
          label="Sign-in name"
          value={signInName}
          onChange={setSignInName}
          autoComplete="username"
          name="username"
          isRequired
          autoFocus
        />
        <TextField
          label="Pass phrase"
          type="password"
          value={passPhrase}
          onChange={setPassPhrase}
          autoComplete="current-password"
          name="password"
          isRequired
          note="Forgotten? The owner makes a one-time link for a new one, in Settings."
        />
        <Button type="submit" look="main" isPending={signIn.isPending}>
          Sign in
        </Button>
      </Form>
      <EntryFailure error={signIn.error} word="Not signed in" />
    </Doorstep>
  );
}
