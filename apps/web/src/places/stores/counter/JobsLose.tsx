import type { JobWorseOff } from '@corewright/contracts/selling';
import { Critical } from '../../../ui/Critical.js';
import { Section } from '../../../ui/Section.js';
import { sayDay } from '../../../ui/say-when.js';
import { MiniTag } from '../../../ui/Tag.js';
import styles from './Counter.module.css';

/** Which open jobs would be worse off, line by line and with their dates; nothing where there is none. */
export function JobsLose({ jobs }: { readonly jobs: readonly JobWorseOff[] }) {
  if (jobs.length === 0) return null;
  return (
    <Section title="What jobs would lose" aside={jobs.length === 1 ? '1 job' : `${jobs.length} jobs`}>
      <ul className={styles.jobs} aria-label="Jobs that would be worse off">
        {jobs.map(({ job, dateGiven, dateNow, dateThen, lines }) => (
          <li key={job.id}>
            <MiniTag code={job.code} href={`/jobs/${job.id}`} /> <b>{job.name}</b>
            {dateGiven !== null && <>, promised for {sayDay(dateGiven)}</>}
            <ul>
              {lines.map(({ lineId, lineNo, part, critical, before, after }) => (
                <li key={lineId}>
                  line {lineNo}, {part.name} <span className="pn">{part.number}</span> {critical && <Critical stops={false} />}{' '}
                  would turn from {before} to <b>{after}</b>
                </li>
              ))}
            </ul>
            {dateNow !== dateThen && (
              <span className={styles.said}>
                What can be promised now: {dateNow}
                <br />
                And then: <b>{dateThen}</b>
              </span>
            )}
          </li>
        ))}
      </ul>
    </Section>
  );
}
