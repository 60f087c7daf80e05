import { createRoute, lazyRouteComponent, useNavigate } from '@tanstack/react-router';
import { lazy } from 'react';
import { type BuildableAsked, readBuildableAsked, usuallyAsked } from '../places/jobs/buildable-asked.js';
import { readWhatIfAsked, type WhatIfAsked } from '../places/jobs/what-if/what-if-asked.js';
import { inside } from './root.js';
import { kept, oneText } from './search.js';

// each screen is fetched when it is first gone to
const UnKitScreen = lazy(async () => ({ default: (await import('../places/jobs/un-kit/UnKitScreen.js')).UnKitScreen }));
const NewJobScreen = lazy(async () => ({ default: (await import('../places/jobs/NewJobScreen.js')).NewJobScreen }));
const BuildableScreen = lazy(async () => ({ default: (await import('../places/jobs/BuildableScreen.js')).BuildableScreen }));
const WhatIfScreen = lazy(async () => ({ default: (await import('../places/jobs/what-if/WhatIfScreen.js')).WhatIfScreen }));
const PickListScreen = lazy(async () => ({
  default: (await import('../places/jobs/pick-list/PickListScreen.js')).PickListScreen,
}));
const JobScreen = lazy(async () => ({ default: (await import('../places/jobs/JobScreen.js')).JobScreen }));
const InsteadScreen = lazy(async () => ({ default: (await import('../places/jobs/InsteadScreen.js')).InsteadScreen }));

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

/** Jobs, over all of them and each. */
export const jobsRoutes = [jobs, newJob, buildable, whatIf, byPart, toReserve, pickList, job, unKit, instead] as const;
