import { useQuery } from '@tanstack/react-query';
import { classNames } from '../../ui/class-names.js';
import { warningsQuery } from './queries.js';
import { WarningRow } from './WarningRow.js';
import styles from './Warnings.module.css';

/** What somebody who works on this job is to know before its lines. */
export function JobWarnings({ jobId, className }: { readonly jobId: string; readonly className?: string | undefined }) {
  const { data } = useQuery(warningsQuery);
  const own = (data?.open ?? []).filter(({ job, otherJob }) => job.id === jobId || otherJob?.id === jobId);
  if (own.length === 0) return null;
  return (
    <section className={classNames(styles.onCard, className)} aria-labelledby="job-warnings">
      <h2 id="job-warnings" className={styles.head}>
        Warnings <span className={styles.count}>{own.length}</span>
      </h2>
      <ul>
        {own.map((warning) => (
          <WarningRow key={warning.id} warning={warning} onCardOf={jobId} />
        ))}
      </ul>
    </section>
  );
}
