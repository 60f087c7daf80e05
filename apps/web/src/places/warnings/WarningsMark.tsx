import { useQuery } from '@tanstack/react-query';
import { warningsQuery } from './queries.js';
import styles from './Warnings.module.css';

/** Beside the name of Today: how many warnings are open. */
export function WarningsMark() {
  const open = useQuery(warningsQuery).data?.openTotal ?? 0;
  if (open === 0) return null;
  return (
    <span className={styles.mark}>
      {open}
      <span className="hidden"> {open === 1 ? 'warning' : 'warnings'}</span>
    </span>
  );
}
