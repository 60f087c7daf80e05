import type { QueryClient } from '@tanstack/react-query';
import { createRootRouteWithContext, createRoute, Outlet, redirect } from '@tanstack/react-router';
import { ApiProblem } from '../api/problem.js';
import { meQuery } from '../api/session.js';
import { NoSuchPage, ScreenFault } from '../shell/Faults.js';
import { Shell } from '../shell/Shell.js';

export const root = createRootRouteWithContext<{ queryClient: QueryClient }>()({
  component: Outlet,
  notFoundComponent: NoSuchPage,
  errorComponent: ScreenFault,
});

/** Everything behind the door. Nobody signed in: to the door, and back here afterwards. */
export const inside = createRoute({
  getParentRoute: () => root,
  id: 'inside',
  component: Shell,
  errorComponent: ScreenFault,
  notFoundComponent: NoSuchPage,
  beforeLoad: async ({ context, location }) => {
    try {
      await context.queryClient.ensureQueryData(meQuery);
    } catch (thrown) {
      if (!(thrown instanceof ApiProblem && thrown.status === 401)) throw thrown;
      throw redirect({ to: '/sign-in', search: { return: location.href } });
    }
  },
});
