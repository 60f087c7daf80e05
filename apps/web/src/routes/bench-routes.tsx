import { createRoute, lazyRouteComponent, useRouter } from '@tanstack/react-router';
import { lazy } from 'react';
import { inside } from './root.js';
import { oneText } from './search.js';

// each screen is fetched when it is first gone to
const LoadScreen = lazy(async () => ({ default: (await import('../places/goods-in/LoadScreen.js')).LoadScreen }));
const LabelScreen = lazy(async () => ({ default: (await import('../places/labels/LabelScreen.js')).LabelScreen }));
const ReplaceLabelScreen = lazy(async () => ({
  default: (await import('../places/labels/ReplaceLabelScreen.js')).ReplaceLabelScreen,
}));
const BlankLabelScreen = lazy(async () => ({ default: (await import('../places/labels/BlankLabelScreen.js')).BlankLabelScreen }));
const StripDownScreen = lazy(async () => ({
  default: (await import('../places/bench/strip-down/StripDownScreen.js')).StripDownScreen,
}));

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

const label = createRoute({
  getParentRoute: () => inside,
  path: '/labels/$code',
  component: function Label() {
    const { code } = label.useParams();
    return <LabelScreen key={code} code={code} />;
  },
});

const replaceLabel = createRoute({
  getParentRoute: () => inside,
  path: '/labels/$code/replace',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'blank'),
  component: function ReplaceLabel() {
    const { code } = replaceLabel.useParams();
    return <ReplaceLabelScreen key={code} code={code} blank={replaceLabel.useSearch().blank ?? ''} />;
  },
});

const blankLabel = createRoute({
  getParentRoute: () => inside,
  path: '/labels/$code/blank',
  component: function BlankLabel() {
    const router = useRouter();
    const { code } = blankLabel.useParams();
    return <BlankLabelScreen key={code} code={code} onFound={(path) => router.history.push(path)} />;
  },
});

const bench = createRoute({
  getParentRoute: () => inside,
  path: '/bench',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'wall'),
  component: lazyRouteComponent(() => import('../places/bench/BenchScreen.js'), 'BenchScreen'),
});

const stripDown = createRoute({
  getParentRoute: () => inside,
  path: '/bench/strip-down/$unitId',
  component: function StripDown() {
    const { unitId } = stripDown.useParams();
    return <StripDownScreen key={unitId} unitId={unitId} />;
  },
});

const settings = createRoute({
  getParentRoute: () => inside,
  path: '/settings',
  component: lazyRouteComponent(() => import('../places/settings/SettingsScreen.js'), 'SettingsScreen'),
});

/** Today, goods-in, labels, the bench and the settings. */
export const benchRoutes = [today, loads, load, label, replaceLabel, blankLabel, bench, stripDown, settings] as const;
