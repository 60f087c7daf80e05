import { createRoute, lazyRouteComponent, redirect, useNavigate } from '@tanstack/react-router';
import { lazy } from 'react';
import type { MeasuresKeyed } from '../places/cross-reference/bearing-queries.js';
import { type FastenerAsked, readFastenerAsked } from '../places/cross-reference/fastener-asked.js';
import type { NumberAsked } from '../places/cross-reference/number-queries.js';
import { type RatioAsked, readRatioAsked } from '../places/cross-reference/ratio-asked.js';
import { inside } from './root.js';
import { kept, oneText } from './search.js';

// each screen is fetched when it is first gone to
const BearingNumberScreen = lazy(async () => ({
  default: (await import('../places/cross-reference/BearingNumberScreen.js')).BearingNumberScreen,
}));
const BearingMeasureScreen = lazy(async () => ({
  default: (await import('../places/cross-reference/BearingMeasureScreen.js')).BearingMeasureScreen,
}));
const NumberScreen = lazy(async () => ({ default: (await import('../places/cross-reference/NumberScreen.js')).NumberScreen }));
const ThreadScreen = lazy(async () => ({ default: (await import('../places/cross-reference/ThreadScreen.js')).ThreadScreen }));
const RatioScreen = lazy(async () => ({ default: (await import('../places/cross-reference/RatioScreen.js')).RatioScreen }));

const crossReference = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference',
  beforeLoad: () => {
    throw redirect({ to: '/cross-reference/number', search: {}, replace: true });
  },
});

const byNumber = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/number',
  validateSearch: (search: Record<string, unknown>) => ({ ...oneText(search, 'number'), ...oneText(search, 'maker') }),
  component: function ByNumber() {
    const navigate = useNavigate();
    const { number = '', maker: makerId = '' } = byNumber.useSearch();
    const ask = (asked: NumberAsked) =>
      void navigate({ to: '/cross-reference/number', search: kept({ number: asked.number, maker: asked.makerId }) });
    return <NumberScreen asked={{ number, makerId }} onAsk={ask} />;
  },
});

const bearing = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/bearing',
  validateSearch: (search: Record<string, unknown>) => ({ ...oneText(search, 'number'), ...oneText(search, 'with') }),
  component: function Bearing() {
    const navigate = useNavigate();
    const { number = '', with: other = '' } = bearing.useSearch();
    const ask = (wanted: string, against: string) =>
      void navigate({ to: '/cross-reference/bearing', search: kept({ number: wanted, with: against }) });
    return <BearingNumberScreen wanted={number} other={other} onAsk={ask} />;
  },
});

const measured = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/measured',
  validateSearch: (search: Record<string, unknown>) => ({
    ...oneText(search, 'bore'),
    ...oneText(search, 'outside'),
    ...oneText(search, 'width'),
  }),
  component: function BearingMeasured() {
    const navigate = useNavigate();
    const { bore = '', outside = '', width = '' } = measured.useSearch();
    const ask = (keyed: MeasuresKeyed) => void navigate({ to: '/cross-reference/measured', search: kept({ ...keyed }) });
    return <BearingMeasureScreen keyed={{ bore, outside, width }} onAsk={ask} />;
  },
});

const bearingPacket = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/packet',
  component: lazyRouteComponent(() => import('../places/cross-reference/BearingPacketScreen.js'), 'BearingPacketScreen'),
});

const bearingTables = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/tables',
  component: lazyRouteComponent(() => import('../places/cross-reference/BearingTablesScreen.js'), 'BearingTablesScreen'),
});

const byThread = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/thread',
  validateSearch: (search: Record<string, unknown>): Partial<FastenerAsked> => readFastenerAsked(search),
  component: function ByThread() {
    const navigate = useNavigate();
    const ask = (asked: FastenerAsked) => void navigate({ to: '/cross-reference/thread', search: kept({ ...asked }) });
    return <ThreadScreen asked={byThread.useSearch()} onAsk={ask} />;
  },
});

const byRatio = createRoute({
  getParentRoute: () => inside,
  path: '/cross-reference/ratio',
  validateSearch: (search: Record<string, unknown>): Partial<RatioAsked> => readRatioAsked(search),
  component: function ByRatio() {
    const navigate = useNavigate();
    const ask = (asked: RatioAsked) => void navigate({ to: '/cross-reference/ratio', search: kept({ ...asked }) });
    return <RatioScreen asked={byRatio.useSearch()} onAsk={ask} />;
  },
});

/** What else will serve: numbers, bearings, threads, ratios. */
export const crossReferenceRoutes = [
  crossReference,
  byNumber,
  bearing,
  measured,
  bearingPacket,
  bearingTables,
  byThread,
  byRatio,
] as const;
