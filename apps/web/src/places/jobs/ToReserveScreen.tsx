import type { CountedOn, ToReserve } from '@corewright/contracts/to-reserve';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Critical } from '../../ui/Critical.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { type Column, Table } from '../../ui/Table.js';
import { reserveFor } from './actions.js';
import { toReserveQuery } from './queries.js';
import { lineToReserve } from './to-reserve.js';

type JobToReserve = ToReserve['jobs'][number];

const COLUMNS: readonly Column<CountedOn>[] = [
  { key: 'line', head: 'line', isNumeric: true, width: '64px', cell: ({ lineNo }) => lineNo },
  {
    key: 'part',
    head: 'part',
    isLead: true,
    cell: ({ name, number, critical }) => (
      <>
        <span className="pn">{number}</span> {name} {critical && <Critical stops={false} />}
      </>
    ),
  },
  {
    key: 'quantity',
    head: 'how many',
    isNumeric: true,
    width: '110px',
    cell: ({ quantity, unitOfMeasure }) => `${quantity}${unitOfMeasure === 'each' ? '' : ` ${unitOfMeasure}`}`,
  },
  {
    key: 'from',
    head: 'from',
    width: '45%',
    cell: ({ thing, words }) =>
      thing === null ? (
        words
      ) : (
        <>
          <Go href={`/stores/things/${thing.id}`}>
            <Code code={thing.code} />
          </Go>{' '}
          {words}
        </>
      ),
  },
];

/** What every open job counts on and has not reserved, to be accepted job by job or for all of them. */
export function ToReserveScreen() {
  const suggested = useQuery(toReserveQuery);
  return (
    <>
      <PageHead
        title="Reserve for all jobs"
        note="What each open job counts on, as things are shared out now, and nobody has reserved: in the order in which jobs are served."
        acts={
          <Acts>
            <ButtonLink href="/jobs/by-part">Parts in conflict</ButtonLink>
            <ButtonLink href="/jobs">All jobs</ButtonLink>
          </Acts>
        }
      />
      {suggested.isPending && <Waiting>Sharing everything out …</Waiting>}
      {suggested.isError && (
        <Failure
          error={suggested.error}
          word="Not shown"
          choices={<Button onPress={() => void suggested.refetch()}>Try again</Button>}
        />
      )}
      {suggested.data !== undefined && <Suggested jobs={suggested.data.jobs} />}
    </>
  );
}

interface Outcome {
  reserved: number;
  refused: { job: JobToReserve['job']; error: Error }[];
}

function Suggested({ jobs }: { readonly jobs: readonly JobToReserve[] }) {
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const client = useQueryClient();
  const reserve = useMutation({
    mutationFn: reserveInTurn,
    onSuccess: (done) => {
      setOutcome(done);
      void client.invalidateQueries({ queryKey: ['jobs'] });
    },
  });
  return (
    <>
      <p role="status" className="read">
        {outcome !== null && outcomeWords(outcome)}
      </p>
      {outcome?.refused.map(({ job, error }) => (
        <Failure key={job.id} error={error} word={`Not reserved for ${job.name}`} kept="Of this job nothing was reserved." />
      ))}
      {jobs.length === 0 ? (
        <Empty title="Nothing is left to reserve">
          What open jobs count on in stores, at outworkers and on order is reserved, or they count on nothing there.
        </Empty>
      ) : (
        <Acts>
          <Button look="main" isPending={reserve.isPending} onPress={() => reserve.mutate(jobs)}>
            {jobs.length === 1 ? 'Reserve for this job' : `Reserve for all ${jobs.length} jobs`}
          </Button>
        </Acts>
      )}
      {jobs.map((each) => (
        <Fold key={each.job.id} summary={summaryOf(each)} isOpenAtFirst={jobs.length <= OPEN_MAX}>
          <Table
            caption={`What ${each.job.name} could reserve`}
            columns={COLUMNS}
            rows={each.counted}
            rowKey={({ lineId, thing, receiptId }) => `${lineId} ${thing?.id ?? receiptId}`}
          />
          <Acts>
            {jobs.length > 1 && (
              <Button label={`Reserve for ${each.job.name}`} isPending={reserve.isPending} onPress={() => reserve.mutate([each])}>
                Reserve for this job
              </Button>
            )}
            <ButtonLink href={`/jobs/${each.job.id}`}>Look at the job</ButtonLink>
          </Acts>
        </Fold>
      ))}
    </>
  );
}

/** More jobs than this are folded at first. */
const OPEN_MAX = 2;

function summaryOf({ job, state, counted }: JobToReserve) {
  const lines = new Set(counted.map(({ lineId }) => lineId)).size;
  return (
    <>
      <Code code={job.code} /> {job.name}{' '}
      <span className="quiet">
        {lines === 1 ? '1 line' : `${lines} lines`}, {state === 'estimate' ? 'an estimate: kept for two weeks' : state}
      </span>
    </>
  );
}

/** Job after job, each all or none, so that one that is refused keeps none of the others. */
async function reserveInTurn(jobs: readonly JobToReserve[]): Promise<Outcome> {
  const outcome: Outcome = { reserved: 0, refused: [] };
  for (const { job, counted } of jobs) {
    try {
      await reserveFor(job.id, null, counted.flatMap(lineToReserve));
      outcome.reserved += 1;
    } catch (error) {
      outcome.refused.push({ job, error: error as Error });
    }
  }
  return outcome;
}

function outcomeWords({ reserved, refused }: Outcome): string {
  const done = reserved === 1 ? 'Reserved for 1 job.' : `Reserved for ${reserved} jobs.`;
  return refused.length === 0 ? done : `${done} ${refused.length} refused: see below.`;
}
