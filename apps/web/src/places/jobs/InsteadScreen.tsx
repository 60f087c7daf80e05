import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import type { PartNamed } from '@corewright/contracts/relations';
import { useQuery } from '@tanstack/react-query';
import { sayCode } from '../../scan/acts.js';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { partQuery } from '../stores/queries.js';
import { AcceptInstead } from './AcceptInstead.js';
import { jobQuery } from './queries.js';

export interface InsteadScreenProps {
  readonly jobId: string;
  readonly lineId: string;
  /** the part that was found elsewhere, by its id; empty where none was chosen yet */
  readonly partId: string;
  readonly onAccepted: () => void;
}

/** What else may go where a line of a job asks for a part, and accepting one of them in somebody's name. */
export function InsteadScreen({ jobId, lineId, partId, onAccepted }: InsteadScreenProps) {
  const job = useQuery(jobQuery(jobId));
  const found = useQuery({ ...partQuery(partId), enabled: partId !== '' });
  if (job.isPending) return <Waiting>Fetching the job card …</Waiting>;
  if (job.data === undefined)
    return <Failure error={job.error} word="Not shown" choices={<Button onPress={() => void job.refetch()}>Try again</Button>} />;
  const line = job.data.coverage.lines.find((each) => each.id === lineId);
  if (line === undefined)
    return (
      <PageHead
        title="No such line"
        note={
          <>
            This line is not one of the job any more. <Go href={`/jobs/${jobId}`}>To the job card</Go>
          </>
        }
      />
    );
  if (partId !== '' && found.isPending) return <Waiting>Fetching the part …</Waiting>;
  const part = found.data === undefined ? null : { ...found.data, ...found.data.numbers[0] };
  return <Instead key={partId} job={job.data} line={line} part={part && named(part)} onAccepted={onAccepted} />;
}

interface InsteadProps {
  readonly job: JobCard;
  readonly line: CoveredLine;
  /** what was found elsewhere; null where nothing was chosen yet */
  readonly part: PartNamed | null;
  readonly onAccepted: () => void;
}

function Instead({ job, line, part, onAccepted }: InsteadProps) {
  return (
    <>
      <PageHead
        title={`Another part for line ${line.lineNo}`}
        note={
          <Go href={`/jobs/${job.id}`}>
            {sayCode(job.code)}, {job.title}
          </Go>
        }
      />
      <TitleBlock
        facts={[
          { label: 'The line asks for', value: line.part.number, note: line.part.name },
          { label: 'Needed', value: line.needed, note: line.critical ? 'critical' : undefined },
          { label: 'The job is built', value: job.buildStandard },
          { label: 'Covered so far', value: line.state },
        ]}
      />
      <AcceptInstead job={job} line={line} part={part} onAccepted={onAccepted} />
    </>
  );
}

function named(part: { id: string; name: string; number?: string; maker?: string }): PartNamed {
  return { id: part.id, name: part.name, number: part.number ?? '', maker: part.maker ?? '' };
}
