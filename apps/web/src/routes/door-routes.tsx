import { createRoute } from '@tanstack/react-router';
import { LinkScreen } from '../places/sign-in/LinkScreen.js';
import { PassPhraseScreen } from '../places/sign-in/PassPhraseScreen.js';
import { SetUpScreen } from '../places/sign-in/SetUpScreen.js';
import { SignInScreen } from '../places/sign-in/SignInScreen.js';
import { root } from './root.js';
import { oneText, pathWithin } from './search.js';

const signIn = createRoute({
  getParentRoute: () => root,
  path: '/sign-in',
  validateSearch: (search: Record<string, unknown>) => ({ ...oneText(search, 'token'), ...oneText(search, 'return') }),
  component: function SignIn() {
    const search = signIn.useSearch();
    const returnTo = pathWithin(search.return);
    return search.token === undefined ? (
      <SignInScreen returnTo={returnTo} />
    ) : (
      <LinkScreen token={search.token} returnTo={returnTo} />
    );
  },
});

const setUp = createRoute({
  getParentRoute: () => root,
  path: '/set-up',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'token'),
  component: function SetUp() {
    return <SetUpScreen token={setUp.useSearch().token ?? ''} />;
  },
});

const passPhrase = createRoute({
  getParentRoute: () => root,
  path: '/pass-phrase',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'token'),
  component: function PassPhrase() {
    return <PassPhraseScreen token={passPhrase.useSearch().token ?? ''} />;
  },
});

/** What can be reached without being signed in. */
export const doorRoutes = [signIn, setUp, passPhrase] as const;
