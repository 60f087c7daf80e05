import type { JobBrief } from '@corewright/contracts/jobs';
import { useInfiniteQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { PageHead } from '../../ui/Section.js';
import { sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { jobsQuery } from './queries.js';

const COLUMNS: readonly Column<JobBrief>[] = [
  { key: 'code', head: 'job', width: '136px', cell: (job) => <Code code={job.code} size="row" /> },
  { key: 'title', head: 'what', isLead: true, width: '27%', cell: (job) => <Go href={`/jobs/${job.id}`}>{job.title}</Go> },
  { key: 'unit', head: 'unit', cell: (job) => <UnitCell job={job} /> },
  { key: 'customer', head: 'for', cell: (job) => job.customer?.name ?? <span className="quiet">stock</span> },
  { key: 'state', head: 'state', cell: (job) => job.state },
  {
    key: 'kit',
    head: 'tray',
    cell: (job) => (job.kit === 'nothing in the tray' ? <span className="quiet">empty</span> : job.kit),
  },
  { key: 'lines', head: 'lines fitted', isNumeric: true, cell: (job) => `${job.fittedLineCount} of ${job.lineCount}` },
  {
    key: 'given',
    head: 'date given',
    cell: (job) => (job.dateGiven === null ? <span className="quiet">none</span> : sayDay(job.dateGiven)),
  },
];

function UnitCell({ job }: { readonly job: JobBrief }) {
  return (
    <>
      <Code code={job.unit.code} /> <span className="quiet">{job.unit.name}</span>
    </>
  );
}

/** Jobs: can we build it, and when? In the order in which they are served. */
export function JobsScreen() {
  const [open, setOpen] = useState<'yes' | 'no'>('yes');
  const jobs = useInfiniteQuery(jobsQuery(open));
  const all = jobs.data?.pages.flatMap((page) => page.jobs) ?? [];
  return (
    <>
      <PageHead
        title="Jobs"
        note="In the order in which they are served: priority, then date given, then age."
        acts={
          <Acts>
            <ButtonLink look="main" href="/jobs/new">
              Open a job
            </ButtonLink>
            <ButtonLink href="/jobs/pick-list">Pick list</ButtonLink>
            <ButtonLink href="/jobs/could-be-built">What could be built</ButtonLink>
            <ButtonLink href="/jobs/by-part">Parts in conflict</ButtonLink>
            <ButtonLink href="/jobs/to-reserve">Reserve for all jobs</ButtonLink>
            <ButtonLink href="/jobs/what-if">What if</ButtonLink>
          </Acts>
        }
      />
      <RadioRow
        label="Show"
        value={open}
        onChange={setOpen}
        choices={[
          { value: 'yes', label: 'open' },
          { value: 'no', label: 'finished and called off' },
        ]}
      />
      {jobs.isPending && <Waiting>Fetching the jobs …</Waiting>}
      {jobs.isError && (
        <Failure error={jobs.error} word="Not shown" choices={<Button onPress={() => void jobs.refetch()}>Try again</Button>} />
      )}
      {jobs.isSuccess && all.length === 0 && <NoJobs open={open} />}
      {all.length > 0 && <Table caption="Jobs" columns={COLUMNS} rows={all} rowKey={(job) => job.id} />}
      {jobs.hasNextPage && (
        <p>
          <Button onPress={() => void jobs.fetchNextPage()} isPending={jobs.isFetchingNextPage}>
            Show more jobs
          </Button>
        </p>
      )}
    </>
  );
}

function NoJobs({ open }: { readonly open: 'yes' | 'no' }) {
  if (open === 'no') return <Empty title="No job is finished yet">A job comes here when it is released or called off.</Empty>;
  return (
    <Empty title="No job is open" choices={<ButtonLink href="/jobs/new">Open a job</ButtonLink>}>
      Open a job on a unit that is in the books: its type brings the operations and the lines, and the card says at once what is
      lacking.
    </Empty>
  );
}
