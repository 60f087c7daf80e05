import { useInfiniteQuery } from '@tanstack/react-query';
import { Button, ButtonLink } from '../../../ui/Button.js';
import { CheckField } from '../../../ui/CheckField.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Fold } from '../../../ui/Fold.js';
import { Failure } from '../../../ui/Problem.js';
import { jobsQuery } from '../queries.js';
import styles from './PickList.module.css';

export interface ChooseJobsProps {
  readonly chosen: readonly string[];
  readonly onChoose: (jobIds: readonly string[]) => void;
}

/** The open jobs, each with a box: the list is for those that are ticked. */
export function ChooseJobs({ chosen, onChoose }: ChooseJobsProps) {
  return (
    <div className={styles.choose}>
      <Fold summary={summaryOf(chosen.length)} isOpenAtFirst={chosen.length === 0}>
        <OpenJobs chosen={chosen} onChoose={onChoose} />
      </Fold>
    </div>
  );
}

function summaryOf(chosen: number): string {
  if (chosen === 0) return 'Choose the jobs';
  return chosen === 1 ? '1 job on this list' : `${chosen} jobs on this list`;
}

function OpenJobs({ chosen, onChoose }: ChooseJobsProps) {
  const jobs = useInfiniteQuery(jobsQuery('yes'));
  if (jobs.isPending) return <Waiting>Fetching the jobs …</Waiting>;
  if (jobs.data === undefined) return <Failure error={jobs.error} word="Not shown" />;
  const open = jobs.data.pages.flatMap((page) => page.jobs);
  if (open.length === 0)
    return (
      <Empty title="No job is open" choices={<ButtonLink href="/jobs/new">Open a job</ButtonLink>}>
        There is nothing to fetch for until there is a job.
      </Empty>
    );
  const change = (id: string, isChosen: boolean) => onChoose(isChosen ? [...chosen, id] : chosen.filter((each) => each !== id));
  return (
    <>
      <ul className={styles.openJobs}>
        {open.map((job) => (
          <li key={job.id}>
            <CheckField isSelected={chosen.includes(job.id)} onChange={(isChosen) => change(job.id, isChosen)}>
              <Code code={job.code} /> {job.title}
              {job.kit !== 'nothing in the tray' && <span className="quiet"> {job.kit}</span>}
            </CheckField>
          </li>
        ))}
      </ul>
      {jobs.hasNextPage && (
        <Button onPress={() => void jobs.fetchNextPage()} isPending={jobs.isFetchingNextPage}>
          Show more jobs
        </Button>
      )}
    </>
  );
}
