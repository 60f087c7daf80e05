import type { ByPart } from '@corewright/contracts/by-part';
import { useQuery } from '@tanstack/react-query';
import { type CSSProperties, useMemo } from 'react';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead } from '../../../ui/Section.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { byPartQuery } from '../queries.js';
import styles from './ByPart.module.css';
import { PartRow } from './PartRow.js';
import { useFits } from './use-fits.js';

/** Parts down, jobs across: only what is lacking, what jobs stand in each other's way for, and what rests on something that may fail. */
export function ByPartScreen() {
  const board = useQuery(byPartQuery);
  return (
    <>
      <PageHead
        title="Parts in conflict"
        note="What open jobs lack, what one has and another could use, and what rests on a late order or on a core. All else is covered."
        acts={
          <Acts>
            <ButtonLink href="/jobs/to-reserve">Reserve for all jobs</ButtonLink>
            <ButtonLink href="/jobs/what-if">What if</ButtonLink>
            <ButtonLink href="/jobs">All jobs</ButtonLink>
          </Acts>
        }
      />
      {board.isPending && <Waiting>Sharing everything out …</Waiting>}
      {board.isError && (
        <Failure error={board.error} word="Not shown" choices={<Button onPress={() => void board.refetch()}>Try again</Button>} />
      )}
      {board.data !== undefined &&
        (board.data.parts.length === 0 ? <NoConflict board={board.data} /> : <Board board={board.data} />)}
    </>
  );
}

function NoConflict({ board }: { readonly board: ByPart }) {
  if (board.openJobs === 0)
    return (
      <Empty title="No job is open" choices={<ButtonLink href="/jobs/new">Open a job</ButtonLink>}>
        What jobs lack, and what they stand in each other’s way for, comes here once there are jobs.
      </Empty>
    );
  const jobs = board.openJobs === 1 ? 'the one open job' : `the ${board.openJobs} open jobs`;
  return (
    <Empty title="Nothing is lacking, and no job is in another’s way">
      Every line of {jobs} is in hand or comes in time, and none rests on a core. That is good: whichever job is taken up next, no
      other loses a part by it.
    </Empty>
  );
}

function Board({ board }: { readonly board: ByPart }) {
  const { jobs, parts } = board;
  const columns = useMemo(() => new Map(jobs.map((job, index) => [job.id, { job, column: index }])), [jobs]);
  const isWide = useFits(widthFor(jobs.length));
  return (
    <>
      <p className="read">{boardWords(board)}</p>
      <div className={classNames(styles.board, isWide && styles.wide)} style={{ '--jobs': jobs.length } as CSSProperties}>
        {isWide && <Hung jobs={jobs} />}
        <VirtualList label="Parts" items={parts} itemKey={({ part }) => part.id} estimate={150}>
          {(part) => <PartRow row={part} columns={columns} />}
        </VirtualList>
      </div>
    </>
  );
}

/** So wide is what stands before the tags, and what a tag and the marks under it need, in CSS pixels. */
const BESIDE_TAGS = 386;
const TAG = 70;
const TAGS_MAX = 15;

/** How wide a window must be for so many tags beside one another. */
function widthFor(jobs: number): number {
  return jobs > TAGS_MAX ? Number.POSITIVE_INFINITY : Math.max(1100, BESIDE_TAGS + TAG * jobs);
}

/** The tags of the jobs, in the order in which they are served. */
function Hung({ jobs }: Pick<ByPart, 'jobs'>) {
  return (
    <div className={styles.head}>
      <span className={styles.headPart}>part</span>
      <span className={styles.headThere}>there is</span>
      <ol className={styles.hung} aria-label="Jobs on this board, in the order in which they are served">
        {jobs.map((job) => (
          <li key={job.id}>
            <Go className={styles.hanging} href={`/jobs/${job.id}`}>
              <span className={styles.eyelet} aria-hidden="true" />
              <span className={styles.hangingCode}>
                <Code code={job.code} />
              </span>
              <span className={styles.hangingName}>{job.name}</span>
            </Go>
          </li>
        ))}
      </ol>
    </div>
  );
}

function boardWords({ parts, openJobs }: ByPart): string {
  const lacking = parts.filter(({ troubles }) => troubles.includes('lacking')).length;
  const wanted = parts.filter(({ troubles }) => troubles.includes('wanted by several')).length;
  const said = [
    lacking === 0 ? '' : `${lacking} ${lacking === 1 ? 'is' : 'are'} lacking`,
    wanted === 0 ? '' : `of ${wanted} one job has what another could use`,
  ].filter((words) => words !== '');
  const all = `${parts.length} ${parts.length === 1 ? 'part' : 'parts'} over ${openJobs} open ${openJobs === 1 ? 'job' : 'jobs'}`;
  return said.length === 0 ? `${all}.` : `${all}: ${said.join(', ')}.`;
}
