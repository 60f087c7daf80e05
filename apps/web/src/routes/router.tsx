import { createRouter } from '@tanstack/react-router';
import { onSignedOut } from '../api/client.js';
import { queryClient } from '../api/query-client.js';
import { Waiting } from '../ui/Empty.js';
import { doorRoutes } from './door-routes.js';
import { placeRoutes } from './place-routes.js';
import { inside, root } from './root.js';

export const router = createRouter({
  routeTree: root.addChildren([...doorRoutes, inside.addChildren([...placeRoutes])]),
  context: { queryClient },
  defaultPreload: false,
  defaultPendingComponent: () => <Waiting>On its way.</Waiting>,
  scrollRestoration: true,
});

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router;
  }
}

// a session that runs out in mid-work leads to the door, and back to the same page
onSignedOut(() => {
  const { pathname, href } = router.state.location;
  if (['/sign-in', '/set-up', '/pass-phrase'].includes(pathname)) return;
  queryClient.removeQueries({ queryKey: ['me'] });
  void router.navigate({ to: '/sign-in', search: { return: href } });
});
