import { createRoute, lazyRouteComponent, redirect, useNavigate, useRouter } from '@tanstack/react-router';
import { lazy } from 'react';
import type { MeasuresKeyed } from '../places/cross-reference/bearing-queries.js';
import { type FastenerAsked, readFastenerAsked } from '../places/cross-reference/fastener-asked.js';
import type { NumberAsked } from '../places/cross-reference/number-queries.js';
import { type RatioAsked, readRatioAsked } from '../places/cross-reference/ratio-asked.js';
import { type BuildableAsked, readBuildableAsked, usuallyAsked } from '../places/jobs/buildable-asked.js';
import { readWhatIfAsked, type WhatIfAsked } from '../places/jobs/what-if/what-if-asked.js';
import { type AsOfAsked, noAsOfAsked, readAsOfAsked } from '../places/stores/as-of/as-of-asked.js';
import { type CoresAsked, readCoresAsked, usualCores } from '../places/stores/cores-asked.js';
import { noYieldsAsked, readYieldsAsked, type YieldsAsked } from '../places/stores/yields-asked.js';
import { inside } from './root.js';
import { kept, oneText } from './search.js';

// each place is fetched when it is first gone to
const LoadScreen = lazy(async () => ({ default: (await import('../places/goods-in/LoadScreen.js')).LoadScreen }));
const StoresScreen = lazy(async () => ({ default: (await import('../places/stores/StoresScreen.js')).StoresScreen }));
const AddPartScreen = lazy(async () => ({ default: (await import('../places/stores/AddPartScreen.js')).AddPartScreen }));
const PartScreen = lazy(async () => ({ default: (await import('../places/stores/PartScreen.js')).PartScreen }));
const ThingScreen = lazy(async () => ({ default: (await import('../places/stores/ThingScreen.js')).ThingScreen }));
const ShelfLifeScreen = lazy(async () => ({ default: (await import('../places/stores/ShelfLifeScreen.js')).ShelfLifeScreen }));
const IdentifyScreen = lazy(async () => ({ default: (await import('../places/stores/IdentifyScreen.js')).IdentifyScreen }));
const AcceptanceScreen = lazy(async () => ({ default: (await import('../places/stores/AcceptanceScreen.js')).AcceptanceScreen }));
const NotOursScreen = lazy(async () => ({ default: (await import('../places/stores/apart/NotOursScreen.js')).NotOursScreen }));
const OpeningShelfScreen = lazy(async () => ({
  default: (await import('../places/stores/opening/ShelfScreen.js')).ShelfScreen,
}));
const AsOfScreen = lazy(async () => ({ default: (await import('../places/stores/as-of/AsOfScreen.js')).AsOfScreen }));
const CountingScreen = lazy(async () => ({
  default: (await import('../places/stores/counting/CountingScreen.js')).CountingScreen,
}));
const CountScreen = lazy(async () => ({ default: (await import('../places/stores/counting/CountScreen.js')).CountScreen }));
const PlaceScreen = lazy(async () => ({ default: (await import('../places/stores/place/PlaceScreen.js')).PlaceScreen }));
const YieldsScreen = lazy(async () => ({ default: (await import('../places/stores/YieldsScreen.js')).YieldsScreen }));
const CoresByAgeScreen = lazy(async () => ({ default: (await import('../places/stores/CoresByAgeScreen.js')).CoresByAgeScreen }));
const SellScreen = lazy(async () => ({ default: (await import('../places/stores/counter/SellScreen.js')).SellScreen }));
const SaleScreen = lazy(async () => ({ default: (await import('../places/stores/counter/SaleScreen.js')).SaleScreen }));
const UnKitScreen = lazy(async () => ({ default: (await import('../places/jobs/un-kit/UnKitScreen.js')).UnKitScreen }));
const NewJobScreen = lazy(async () => ({ default: (await import('../places/jobs/NewJobScreen.js')).NewJobScreen }));
const BuildableScreen = lazy(async () => ({ default: (await import('../places/jobs/BuildableScreen.js')).BuildableScreen }));
const WhatIfScreen = lazy(async () => ({ default: (await import('../places/jobs/what-if/WhatIfScreen.js')).WhatIfScreen }));
const PickListScreen = lazy(async () => ({
  default: (await import('../places/jobs/pick-list/PickListScreen.js')).PickListScreen,
}));
const JobScreen = lazy(async () => ({ default: (await import('../places/jobs/JobScreen.js')).JobScreen }));
const InsteadScreen = lazy(async () => ({ default: (await import('../places/jobs/InsteadScreen.js')).InsteadScreen }));
const LabelScreen = lazy(async () => ({ default: (await import('../places/labels/LabelScreen.js')).LabelScreen }));
const ReplaceLabelScreen = lazy(async () => ({
  default: (await import('../places/labels/ReplaceLabelScreen.js')).ReplaceLabelScreen,
}));
const BlankLabelScreen = lazy(async () => ({ default: (await import('../places/labels/BlankLabelScreen.js')).BlankLabelScreen }));
const StripDownScreen = lazy(async () => ({
  default: (await import('../places/bench/strip-down/StripDownScreen.js')).StripDownScreen,
}));
const BearingNumberScreen = lazy(async () => ({
  default: (await import('../places/cross-reference/BearingNumberScreen.js')).BearingNumberScreen,
}));
const BearingMeasureScreen = lazy(async () => ({
  default: (await import('../places/cross-reference/BearingMeasureScreen.js')).BearingMeasureScreen,
}));
const NumberScreen = lazy(async () => ({ default: (await import('../places/cross-reference/NumberScreen.js')).NumberScreen }));
const ThreadScreen = lazy(async () => ({ default: (await import('../places/cross-reference/ThreadScreen.js')).ThreadScreen }));
const RatioScreen = lazy(async () => ({ default: (await import('../places/cross-reference/RatioScreen.js')).RatioScreen }));

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

const jobs = createRoute({
  getParentRoute: () => inside,
  path: '/jobs',
  component: lazyRouteComponent(() => import('../places/jobs/JobsScreen.js'), 'JobsScreen'),
});

const newJob = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/new',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'unit'),
  component: function NewJob() {
    return <NewJobScreen unitCode={newJob.useSearch().unit ?? ''} />;
  },
});

const buildable = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/could-be-built',
  validateSearch: (search: Record<string, unknown>): Partial<BuildableAsked> => readBuildableAsked(search),
  component: function CouldBeBuilt() {
    const navigate = useNavigate();
    const ask = (asked: BuildableAsked) => void navigate({ to: '/jobs/could-be-built', search: asked });
    return <BuildableScreen asked={{ ...usuallyAsked, ...buildable.useSearch() }} onAsk={ask} />;
  },
});

const whatIf = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/what-if',
  validateSearch: (search: Record<string, unknown>): WhatIfAsked => readWhatIfAsked(search),
  component: function WhatIf() {
    const navigate = useNavigate();
    const { suppose = '', job: jobId = '' } = whatIf.useSearch();
    const ask = (asked: string) => void navigate({ to: '/jobs/what-if', search: kept({ suppose: asked, job: jobId }) });
    return <WhatIfScreen suppose={suppose} jobId={jobId} onAsk={ask} />;
  },
});

const byPart = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/by-part',
  component: lazyRouteComponent(() => import('../places/jobs/by-part/ByPartScreen.js'), 'ByPartScreen'),
});

const toReserve = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/to-reserve',
  component: lazyRouteComponent(() => import('../places/jobs/ToReserveScreen.js'), 'ToReserveScreen'),
});

const pickList = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/pick-list',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'jobs'),
  component: function FetchFromStores() {
    const navigate = useNavigate();
    const choose = (ids: readonly string[]) => void navigate({ to: '/jobs/pick-list', search: kept({ jobs: ids.join(',') }) });
    const { jobs: chosen = '' } = pickList.useSearch();
    return <PickListScreen jobIds={chosen.split(',').filter((id) => id !== '')} onChoose={choose} />;
  },
});

const job = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/$jobId',
  component: function Job() {
    const { jobId } = job.useParams();
    return <JobScreen key={jobId} jobId={jobId} />;
  },
});

const unKit = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/$jobId/un-kit',
  component: function UnKit() {
    const { jobId } = unKit.useParams();
    return <UnKitScreen key={jobId} jobId={jobId} />;
  },
});

const instead = createRoute({
  getParentRoute: () => inside,
  path: '/jobs/$jobId/lines/$lineId/instead',
  validateSearch: (search: Record<string, unknown>) => oneText(search, 'part'),
  component: function Instead() {
    const navigate = useNavigate();
    const { jobId, lineId } = instead.useParams();
    const toJob = () => void navigate({ to: '/jobs/$jobId', params: { jobId } });
    return (
      <InsteadScreen key={lineId} jobId={jobId} lineId={lineId} partId={instead.useSearch().part ?? ''} onAccepted={toJob} />
    );
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

const settings = createRoute({
  getParentRoute: () => inside,
  path: '/settings',
  component: lazyRouteComponent(() => import('../places/settings/SettingsScreen.js'), 'SettingsScreen'),
});

/** One route for each screen behind the door: address, search, screen. */
export const placeRoutes = [
  today,
  loads,
  load,
  stores,
  newPart,
  part,
  thing,
  identify,
  acceptance,
  unidentified,
  askAround,
  place,
  opening,
  openingDesk,
  openingShelf,
  shelfLife,
  asOf,
  counting,
  count,
  yields,
  coresByAge,
  sell,
  sales,
  sale,
  heldBack,
  notOurs,
  keptForOwners,
  consumables,
  toBuy,
  jobs,
  newJob,
  buildable,
  whatIf,
  byPart,
  toReserve,
  pickList,
  job,
  unKit,
  instead,
  label,
  replaceLabel,
  blankLabel,
  bench,
  stripDown,
  crossReference,
  byNumber,
  bearing,
  measured,
  bearingPacket,
  bearingTables,
  byThread,
  byRatio,
  settings,
] as const;
