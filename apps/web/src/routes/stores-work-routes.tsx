import { createRoute, lazyRouteComponent, useNavigate } from '@tanstack/react-router';
import { lazy } from 'react';
import { type AsOfAsked, noAsOfAsked, readAsOfAsked } from '../places/stores/as-of/as-of-asked.js';
import { inside } from './root.js';
import { kept, oneText } from './search.js';

// each screen is fetched when it is first gone to
const NotOursScreen = lazy(async () => ({ default: (await import('../places/stores/apart/NotOursScreen.js')).NotOursScreen }));
const OpeningShelfScreen = lazy(async () => ({
  default: (await import('../places/stores/opening/ShelfScreen.js')).ShelfScreen,
}));
const AsOfScreen = lazy(async () => ({ default: (await import('../places/stores/as-of/AsOfScreen.js')).AsOfScreen }));
const CountingScreen = lazy(async () => ({
  default: (await import('../places/stores/counting/CountingScreen.js')).CountingScreen,
}));
const CountScreen = lazy(async () => ({ default: (await import('../places/stores/counting/CountScreen.js')).CountScreen }));
const SellScreen = lazy(async () => ({ default: (await import('../places/stores/counter/SellScreen.js')).SellScreen }));
const SaleScreen = lazy(async () => ({ default: (await import('../places/stores/counter/SaleScreen.js')).SaleScreen }));

const opening = createRoute({
  getParentRoute: () => inside,
  path: '/stores/opening',
  component: lazyRouteComponent(() => import('../places/stores/opening/OpeningScreen.js'), 'OpeningScreen'),
});

const openingDesk = createRoute({
  getParentRoute: () => inside,
  path: '/stores/opening/desk',
  component: lazyRouteComponent(() => import('../places/stores/opening/DeskScreen.js'), 'DeskScreen'),
});

const openingShelf = createRoute({
  getParentRoute: () => inside,
  path: '/stores/opening/shelf/$placeId',
  component: function OpeningShelf() {
    const { placeId } = openingShelf.useParams();
    return <OpeningShelfScreen key={placeId} placeId={placeId} />;
  },
});

const asOf = createRoute({
  getParentRoute: () => inside,
  path: '/stores/as-it-stood',
  validateSearch: (search: Record<string, unknown>): Partial<AsOfAsked> => readAsOfAsked(search),
  component: function AsItStood() {
    const navigate = useNavigate();
    const ask = (asked: AsOfAsked) => void navigate({ to: '/stores/as-it-stood', search: kept({ ...asked }) });
    return <AsOfScreen asked={{ ...noAsOfAsked, ...asOf.useSearch() }} onAsk={ask} />;
  },
});

const counting = createRoute({
  getParentRoute: () => inside,
  path: '/stores/counting',
  component: function Counting() {
    const navigate = useNavigate();
    const toCount = (countId: string) => void navigate({ to: '/stores/counting/$countId', params: { countId } });
    return <CountingScreen onBegun={toCount} />;
  },
});

const count = createRoute({
  getParentRoute: () => inside,
  path: '/stores/counting/$countId',
  component: function Count() {
    const { countId } = count.useParams();
    return <CountScreen key={countId} countId={countId} />;
  },
});

const sell = createRoute({
  getParentRoute: () => inside,
  path: '/stores/sell',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'code'),
  component: function Sell() {
    const navigate = useNavigate();
    const toSale = (saleId: string) => void navigate({ to: '/stores/sales/$saleId', params: { saleId } });
    return <SellScreen code={sell.useSearch().code ?? ''} onSold={toSale} />;
  },
});

const sales = createRoute({
  getParentRoute: () => inside,
  path: '/stores/sales',
  component: lazyRouteComponent(() => import('../places/stores/counter/SalesScreen.js'), 'SalesScreen'),
});

const sale = createRoute({
  getParentRoute: () => inside,
  path: '/stores/sales/$saleId',
  component: function Sale() {
    const { saleId } = sale.useParams();
    return <SaleScreen key={saleId} saleId={saleId} />;
  },
});

const heldBack = createRoute({
  getParentRoute: () => inside,
  path: '/stores/held-back',
  component: lazyRouteComponent(() => import('../places/stores/apart/HeldBackScreen.js'), 'HeldBackScreen'),
});

const notOurs = createRoute({
  getParentRoute: () => inside,
  path: '/stores/not-ours',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'owner'),
  component: function NotOurs() {
    const ownerId = notOurs.useSearch().owner ?? '';
    return <NotOursScreen key={ownerId} ownerId={ownerId} />;
  },
});

const keptForOwners = createRoute({
  getParentRoute: () => inside,
  path: '/stores/kept-for-owners',
  component: lazyRouteComponent(() => import('../places/stores/apart/KeptForOwnersScreen.js'), 'KeptForOwnersScreen'),
});

const consumables = createRoute({
  getParentRoute: () => inside,
  path: '/stores/consumables',
  component: lazyRouteComponent(() => import('../places/stores/consumables/ConsumablesScreen.js'), 'ConsumablesScreen'),
});

const toBuy = createRoute({
  getParentRoute: () => inside,
  path: '/stores/to-buy',
  component: lazyRouteComponent(() => import('../places/stores/consumables/ToBuyScreen.js'), 'ToBuyScreen'),
});

/** What is done in the stores: opened, counted, sold, held apart, used up, looked back at. */
export const storesWorkRoutes = [
  opening,
  openingDesk,
  openingShelf,
  asOf,
  counting,
  count,
  sell,
  sales,
  sale,
  heldBack,
  notOurs,
  keptForOwners,
  consumables,
  toBuy,
] as const;
