import { exportFiles, recordFiles } from '@corewright/contracts/imports';
import { Section } from '../../ui/Section.js';
import styles from './SettingsScreen.module.css';

/** The workshop's own records, to keep or to work on elsewhere. */
export function ExportSection() {
  return (
    <Section title="Take files out" aside="CSV">
      <div className={styles.stack}>
        <p className="read">
          Each file is as the books stand now, in the columns in which it can be brought in again. Brought in where it came from,
          it changes nothing.
        </p>
        <ul className={styles.taken}>
          {exportFiles.map((file) => (
            <li key={file}>
              <a href={`/api/exports/${file}`} download={`${file}.csv`}>
                {file}.csv
              </a>
            </li>
          ))}
        </ul>
        <p className="read">
          For whoever keeps the accounts: what was sold at the counter and what came back. It is not brought in again.
        </p>
        <ul className={styles.taken}>
          {recordFiles.map((file) => (
            <li key={file}>
              <a href={`/api/exports/${file}`} download={`${file}.csv`}>
                {file}.csv
              </a>
            </li>
          ))}
        </ul>
      </div>
    </Section>
  );
}
