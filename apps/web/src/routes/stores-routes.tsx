import { createRoute, lazyRouteComponent, useNavigate } from '@tanstack/react-router';
import { lazy } from 'react';
import { type CoresAsked, readCoresAsked, usualCores } from '../places/stores/cores-asked.js';
import { noYieldsAsked, readYieldsAsked, type YieldsAsked } from '../places/stores/yields-asked.js';
import { inside } from './root.js';
import { kept, oneText } from './search.js';

// each screen is fetched when it is first gone to
const StoresScreen = lazy(async () => ({ default: (await import('../places/stores/StoresScreen.js')).StoresScreen }));
const AddPartScreen = lazy(async () => ({ default: (await import('../places/stores/AddPartScreen.js')).AddPartScreen }));
const PartScreen = lazy(async () => ({ default: (await import('../places/stores/PartScreen.js')).PartScreen }));
const ThingScreen = lazy(async () => ({ default: (await import('../places/stores/ThingScreen.js')).ThingScreen }));
const ShelfLifeScreen = lazy(async () => ({ default: (await import('../places/stores/ShelfLifeScreen.js')).ShelfLifeScreen }));
const IdentifyScreen = lazy(async () => ({ default: (await import('../places/stores/IdentifyScreen.js')).IdentifyScreen }));
const AcceptanceScreen = lazy(async () => ({ default: (await import('../places/stores/AcceptanceScreen.js')).AcceptanceScreen }));
const PlaceScreen = lazy(async () => ({ default: (await import('../places/stores/place/PlaceScreen.js')).PlaceScreen }));
const YieldsScreen = lazy(async () => ({ default: (await import('../places/stores/YieldsScreen.js')).YieldsScreen }));
const CoresByAgeScreen = lazy(async () => ({ default: (await import('../places/stores/CoresByAgeScreen.js')).CoresByAgeScreen }));

const stores = createRoute({
  getParentRoute: () => inside,
  path: '/stores',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'q'),
  component: function Stores() {
    const navigate = useNavigate();
    const search = (q: string) => void navigate({ to: '/stores', search: q === '' ? {} : { q }, replace: true });
    return <StoresScreen q={stores.useSearch().q ?? ''} onSearch={search} />;
  },
});

const newPart = createRoute({
  getParentRoute: () => inside,
  path: '/stores/new-part',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'number'),
  component: function NewPart() {
    const navigate = useNavigate();
    const toPart = (partId: string) => void navigate({ to: '/stores/parts/$partId', params: { partId } });
    return <AddPartScreen number={newPart.useSearch().number ?? ''} onAdded={toPart} />;
  },
});

const part = createRoute({
  getParentRoute: () => inside,
  path: '/stores/parts/$partId',
  component: function Part() {
    const { partId } = part.useParams();
    return <PartScreen key={partId} partId={partId} />;
  },
});

const thing = createRoute({
  getParentRoute: () => inside,
  path: '/stores/things/$thingId',
  component: function Thing() {
    const { thingId } = thing.useParams();
    return <ThingScreen key={thingId} thingId={thingId} />;
  },
});

const identify = createRoute({
  getParentRoute: () => inside,
  path: '/stores/things/$thingId/identify',
  component: function Identify() {
    const navigate = useNavigate();
    const { thingId } = identify.useParams();
    const toThing = () => void navigate({ to: '/stores/things/$thingId', params: { thingId } });
    return <IdentifyScreen key={thingId} thingId={thingId} onSaid={toThing} />;
  },
});

const acceptance = createRoute({
  getParentRoute: () => inside,
  path: '/stores/things/$thingId/acceptance',
  component: function Acceptance() {
    const { thingId } = acceptance.useParams();
    return <AcceptanceScreen key={thingId} thingId={thingId} />;
  },
});

const unidentified = createRoute({
  getParentRoute: () => inside,
  path: '/stores/unidentified',
  component: lazyRouteComponent(() => import('../places/stores/UnidentifiedScreen.js'), 'UnidentifiedScreen'),
});

const askAround = createRoute({
  getParentRoute: () => inside,
  path: '/stores/ask-around',
  component: lazyRouteComponent(() => import('../places/stores/AskAroundScreen.js'), 'AskAroundScreen'),
});

const place = createRoute({
  getParentRoute: () => inside,
  path: '/stores/places/$placeId',
  component: function Place() {
    const { placeId } = place.useParams();
    return <PlaceScreen key={placeId} placeId={placeId} />;
  },
});

const shelfLife = createRoute({
  getParentRoute: () => inside,
  path: '/stores/shelf-life',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'on'),
  component: function ShelfLife() {
    const navigate = useNavigate();
    const ask = (on: string) => void navigate({ to: '/stores/shelf-life', search: kept({ on }) });
    return <ShelfLifeScreen on={shelfLife.useSearch().on ?? ''} onAsk={ask} />;
  },
});

const yields = createRoute({
  getParentRoute: () => inside,
  path: '/stores/yields',
  validateSearch: (search: Record<string, unknown>): Partial<YieldsAsked> => readYieldsAsked(search),
  component: function WhatCoresGave() {
    const navigate = useNavigate();
    const ask = (asked: YieldsAsked) => void navigate({ to: '/stores/yields', search: kept({ ...asked }) });
    return <YieldsScreen asked={{ ...noYieldsAsked, ...yields.useSearch() }} onAsk={ask} />;
  },
});

const coresByAge = createRoute({
  getParentRoute: () => inside,
  path: '/stores/cores-by-age',
  validateSearch: (search: Record<string, unknown>): Partial<CoresAsked> => readCoresAsked(search),
  component: function CoresByAge() {
    const navigate = useNavigate();
    const ask = (asked: CoresAsked) => void navigate({ to: '/stores/cores-by-age', search: asked });
    return <CoresByAgeScreen asked={{ ...usualCores, ...coresByAge.useSearch() }} onAsk={ask} />;
  },
});

/** What is in the stores: search, parts, things, places, and what is asked of them. */
export const storesRoutes = [
  stores,
  newPart,
  part,
  thing,
  identify,
  acceptance,
  unidentified,
  askAround,
  place,
  shelfLife,
  yields,
  coresByAge,
] as const;
