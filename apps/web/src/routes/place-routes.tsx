import { createRoute, lazyRouteComponent } from '@tanstack/react-router';
import { lazy } from 'react';
import { inside } from './root.js';
import { oneText } from './search.js';

const LoadScreen = lazy(async () => ({ default: (await import('../places/goods-in/LoadScreen.js')).LoadScreen }));

const today = createRoute({
  getParentRoute: () => inside,
  path: '/',
  component: lazyRouteComponent(() => import('../places/today/TodayScreen.js'), 'TodayScreen'),
});

const loads = createRoute({
  getParentRoute: () => inside,
  path: '/goods-in',
  component: lazyRouteComponent(() => import('../places/goods-in/LoadsScreen.js'), 'LoadsScreen'),
});

const load = createRoute({
  getParentRoute: () => inside,
  path: '/goods-in/$loadId',
  component: function Load() {
    const { loadId } = load.useParams();
    return <LoadScreen key={loadId} loadId={loadId} />;
  },
});

const bench = createRoute({
  getParentRoute: () => inside,
  path: '/bench',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'wall'),
  component: lazyRouteComponent(() => import('../places/bench/BenchScreen.js'), 'BenchScreen'),
});

const settings = createRoute({
  getParentRoute: () => inside,
  path: '/settings',
  component: lazyRouteComponent(() => import('../places/settings/SettingsScreen.js'), 'SettingsScreen'),
});

/** One route for each screen behind the door: address, search, screen. */
export const placeRoutes = [today, loads, load, bench, settings] as const;
