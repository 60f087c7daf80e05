import { Me, type NewPassPhrase, type SetUp, type SignIn, type SignInByLink } from '@corewright/contracts/people';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { meQuery, workshopQuery } from '../../api/session.js';

/** After any way of signing in: forget what an earlier person saw, then go where the new one wanted to. */
function useArrival(returnTo: string) {
  const client = useQueryClient();
  const router = useRouter();
  return (me: Me) => {
    client.clear();
    client.setQueryData(meQuery.queryKey, me);
    void client.prefetchQuery(workshopQuery);
    // replaced, so that a one-time link does not lie in the way of "back"
    router.history.replace(returnTo);
  };
}

function useEntry<Body>(path: string, returnTo: string) {
  const arrive = useArrival(returnTo);
  return useMutation({ mutationFn: (body: Body) => api.send(Me, 'POST', path, body), onSuccess: arrive });
}

export const useSignIn = (returnTo: string) => useEntry<z.input<typeof SignIn>>('/api/sign-in', returnTo);
export const useSignInByLink = (returnTo: string) => useEntry<z.input<typeof SignInByLink>>('/api/sign-in-link', returnTo);
export const useSetUp = () => useEntry<z.input<typeof SetUp>>('/api/set-up', '/');
export const useNewPassPhrase = () => useEntry<z.input<typeof NewPassPhrase>>('/api/pass-phrase', '/');
