import { useEffect, useRef } from 'react';
import { ButtonLink } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { useSignInByLink } from './actions.js';
import { Doorstep } from './Doorstep.js';
import { EntryFailure } from './EntryFailure.js';

/** Opened by a one-time link: signs in at once, or says why the link does not work any more. */
export function LinkScreen({ token, returnTo }: { readonly token: string; readonly returnTo: string }) {
  const { mutate, error } = useSignInByLink(returnTo);
  const begun = useRef(false);
  useEffect(() => {
    // a link works once: a page that is drawn twice must not spend it twice
    if (begun.current) return;
    begun.current = true;
    mutate({ token });
  }, [mutate, token]);

  if (error === null) {
    return (
      <Doorstep title="Signing in">
        <Waiting>The link is being looked at.</Waiting>
      </Doorstep>
    );
  }
  return (
    <Doorstep title="This link does not open the door">
      <EntryFailure error={error} word="Not signed in" />
      <p>A link works once and for a limited time. Start the server again to have a new one printed, or sign in by name.</p>
      <p>
        <ButtonLink href="/sign-in">Sign in by name</ButtonLink>
      </p>
    </Doorstep>
  );
}
