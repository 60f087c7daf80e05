import type { JobCard } from '@corewright/contracts/jobs';
import { useQuery } from '@tanstack/react-query';
import { Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { sayDay, sayMinutes } from '../../ui/say-when.js';
import { Tag } from '../../ui/Tag.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { JobWarnings } from '../warnings/JobWarnings.js';
import { JobAside } from './JobAside.js';
import { JobLines } from './JobLines.js';
import styles from './JobScreen.module.css';
import { PromisePanel } from './PromisePanel.js';
import { jobQuery } from './queries.js';

/** The job card: what it is, when it can be promised and why, what it still lacks. It prints as a card. */
export function JobScreen({ jobId }: { readonly jobId: string }) {
  const job = useQuery(jobQuery(jobId));
  if (job.isPending) return <Waiting>Fetching the job card …</Waiting>;
  if (job.data === undefined)
    return <Failure error={job.error} word="Not shown" choices={<Button onPress={() => void job.refetch()}>Try again</Button>} />;
  return <JobShown job={job.data} />;
}

function JobShown({ job }: { readonly job: JobCard }) {
  const left = job.operations.reduce((sum, operation) => sum + operation.minutesLeft, 0);
  const planned = job.operations.reduce((sum, operation) => sum + operation.minutesPlanned, 0);
  return (
    <div className={styles.card}>
      <h1 className="hidden">
        Job card {job.code}, {job.title}
      </h1>
      <div className={styles.top}>
        <Tag kind="job" size="large" code={job.code} fact={job.tray.name} what={job.title}>
          {job.customer === null ? 'for stock' : `for ${job.customer.name}`}
          {job.wanted !== '' && <span className={styles.wanted}>{job.wanted}</span>}
        </Tag>
        <TitleBlock
          className={styles.facts}
          facts={[
            { label: 'Customer', value: job.customer?.name ?? 'stock' },
            { label: 'Owner of the unit', value: job.unitFacts.owner },
            { label: 'Build standard', value: job.buildStandard },
            { label: 'Priority', value: `${job.priority} of 5`, note: job.priority === 1 ? 'before all others' : undefined },
            { label: 'Stage', value: job.state },
            { label: 'Kit tray', value: job.tray.name, note: job.kit },
            { label: 'Work left', value: planned === 0 ? 'none planned' : sayMinutes(left), note: `of ${sayMinutes(planned)}` },
            { label: 'Opened', value: sayDay(job.openedOn) },
          ]}
        />
      </div>
      <PromisePanel job={job} />
      <JobWarnings jobId={job.id} className={styles.warnings} />
      <div className={styles.split}>
        <JobLines job={job} />
        <JobAside job={job} />
      </div>
      <div className={styles.caution}>
        <CautionLine>
          Driveline failure can injure. This record does not certify safety. Follow the maker’s manual, local codes and qualified
          practice. Old gaskets and linings can hold asbestos: wet wipe, never an air line.
        </CautionLine>
      </div>
    </div>
  );
}
