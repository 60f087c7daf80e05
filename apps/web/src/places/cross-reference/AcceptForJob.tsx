import type { BearingInStores, BearingRead } from '@corewright/contracts/bearings';
import { useQueries } from '@tanstack/react-query';
import { sayCode } from '../../scan/acts.js';
import { Go } from '../../ui/Go.js';
import { Section } from '../../ui/Section.js';
import styles from './Bearings.module.css';
import { askingLinesQuery } from './bearing-queries.js';

export interface AcceptForJobProps {
  readonly wanted: BearingRead;
  readonly other: BearingRead;
}

/** From a comparison to the job: the lines that ask for the one, and where the other may be accepted in its place. */
export function AcceptForJob({ wanted, other }: AcceptForJobProps) {
  const asking = useQueries({ queries: wanted.stores.map((part) => askingLinesQuery(part.partId)) });
  const lines = asking.flatMap((each) => each.data?.lines ?? []);
  const wantedIds = wanted.stores.map((part) => part.partId);
  const others = other.stores.filter((part) => !wantedIds.includes(part.partId));
  if (lines.length === 0 || others.length === 0) return null;
  return (
    <Section title="Accept it for a job" aside={lines.length === 1 ? '1 line asks for it' : `${lines.length} lines ask for it`}>
      <ul className={styles.stores}>
        {lines.flatMap((line) =>
          others.map((part) => (
            <li key={`${line.lineId} ${part.partId}`}>
              <Go href={`/jobs/${line.jobId}/lines/${line.lineId}/instead?${new URLSearchParams({ part: part.partId })}`}>
                {numbersOf(part)} in place of line {line.lineNo} of {sayCode(line.jobCode)}
              </Go>
              : {line.jobTitle}, {part.free === '0' ? 'none free' : `${part.free} free`}
            </li>
          )),
        )}
      </ul>
    </Section>
  );
}

function numbersOf(part: BearingInStores): string {
  return part.numbers.map(({ maker, number }) => `${number}, ${maker}`).join('; ');
}
