import { useQuery } from '@tanstack/react-query';
import { Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { SelectField } from '../../../ui/SelectField.js';
import { isFinished } from '../cover.js';
import { jobQuery } from '../queries.js';

export interface LineOfJobProps {
  readonly jobId: string;
  /** Empty while none is chosen. */
  readonly lineId: string;
  readonly onLine: (lineId: string) => void;
}

/** One of the lines of a job that still wants something, what it lacks most first. */
export function LineOfJob({ jobId, lineId, onLine }: LineOfJobProps) {
  const job = useQuery(jobQuery(jobId));
  if (job.isPending) return <Waiting>Fetching its lines …</Waiting>;
  if (job.data === undefined) return <Failure error={job.error} word="Not shown" />;
  const open = job.data.coverage.lines.filter((line) => !isFinished(line));
  const lackingFirst = open.toSorted(
    (one, other) => Number(other.state === 'lacking') - Number(one.state === 'lacking') || one.lineNo - other.lineNo,
  );
  return (
    <SelectField
      label="Line"
      value={lineId}
      choices={[
        { value: '', label: open.length === 0 ? 'no line of it wants anything' : 'choose a line' },
        ...lackingFirst.map(({ id, lineNo, part, state }) => ({
          value: id,
          label: `${lineNo}  ${part.number} ${part.name}${state === 'lacking' ? ', lacking' : ''}`,
        })),
      ]}
      onChange={onLine}
    />
  );
}
