import type { Warning, WarningList } from '@corewright/contracts/warnings';
import { Code } from '../../ui/Code.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { WarningRow } from './WarningRow.js';
import styles from './Warnings.module.css';

/** What changed for the worse, before what stands as it stood: the newest first, until each is dealt with. */
export function WarningsOnToday({ warnings }: { readonly warnings: WarningList }) {
  const { open, openTotal } = warnings;
  if (open.length === 0) return null;
  return (
    <section className={styles.group} aria-labelledby="today-warnings">
      <h2 id="today-warnings" className={styles.head}>
        Warnings <span className={styles.count}>{openTotal}</span>
      </h2>
      <ol>
        {open.map((warning, index) => (
          <WarningRow key={warning.id} warning={warning} number={index + 1} />
        ))}
      </ol>
      {openTotal > open.length && <p className="quiet">The newest {open.length} are shown. Settle some to see the others.</p>}
    </section>
  );
}

const settledShownMax = 8;

/** What was settled in the last days, and by whom. */
export function SettledLately({ settled }: { readonly settled: readonly Warning[] }) {
  if (settled.length === 0) return null;
  return (
    <Section title="Settled lately">
      <ul className={styles.settled}>
        {settled.slice(0, settledShownMax).map((warning) => (
          <SettledItem key={warning.id} warning={warning} />
        ))}
      </ul>
    </Section>
  );
}

function SettledItem({ warning: { job, words, settled } }: { readonly warning: Warning }) {
  if (settled === null) return null;
  return (
    <li>
      <b>{words}</b>
      <Code code={job.code} />, {sayInstant(settled.at, new Date())}, {settled.by ?? 'by itself'}: {settled.note}
    </li>
  );
}
