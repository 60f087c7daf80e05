import type { Advice } from '@corewright/contracts/coverage';
import type { JobStanding, WhatIfJob, WhatIfLine } from '@corewright/contracts/what-if';
import { CoverageBar } from '../../../ui/CoverageBar.js';
import { CoverageWord } from '../../../ui/CoverageWord.js';
import { Critical } from '../../../ui/Critical.js';
import { classNames } from '../../../ui/class-names.js';
import { sortShares } from '../../../ui/coverage-states.js';
import { Fold } from '../../../ui/Fold.js';
import { sayDay, sayDayAloud } from '../../../ui/say-when.js';
import { MiniTag } from '../../../ui/Tag.js';
import { barOfCounts } from '../cover.js';
import { LinesBothWays } from './LinesBothWays.js';
import { TurnWord } from './TurnWord.js';
import styles from './WhatIf.module.css';

/** A job as it is and as it would be, side by side; on a phone one under the other. */
export function JobBothWays({ job }: { readonly job: WhatIfJob }) {
  const { before, after, lines, place } = job;
  return (
    <article className={styles.job} aria-label={`Job ${job.job.name}`}>
      <div className={styles.who}>
        <MiniTag code={job.job.code} href={`/jobs/${job.job.id}`} />
        <h3>{job.job.name}</h3>
        <p>
          <TurnWord turn={job.turn} />
        </p>
        <p className="quiet">
          {place.before === place.after
            ? `served as number ${place.after}`
            : `served as number ${place.after}, not ${place.before}`}
          {job.dateGiven !== null && `; its customer was told ${sayDay(job.dateGiven)}`}
        </p>
      </div>
      <Side title="As it is" standing={before} dateGiven={job.dateGiven} />
      <Side title="As it would be" standing={after} dateGiven={job.dateGiven} isSupposed />
      {lines.length > 0 && (
        <div className={styles.fold}>
          <Fold summary={foldWords(lines)} isOpenAtFirst={lines.some(({ turn }) => turn !== 'otherwise')}>
            <LinesBothWays lines={lines} />
          </Fold>
        </div>
      )}
    </article>
  );
}

function foldWords(lines: readonly WhatIfLine[]): string {
  const count = lines.length === 1 ? 'One line would be' : `${lines.length} lines would be`;
  return `${count} covered otherwise: ${lines.map(({ lineNo }) => lineNo).join(', ')}`;
}

interface SideProps {
  readonly title: string;
  readonly standing: JobStanding;
  readonly dateGiven: string | null;
  readonly isSupposed?: boolean;
}

function Side({ title, standing, dateGiven, isSupposed = false }: SideProps) {
  const bar = sortShares(barOfCounts(standing.counts));
  return (
    <div className={classNames(styles.side, isSupposed && styles.supposed)}>
      <h4>{title}</h4>
      <DateSaid advice={standing.advice} dateGiven={dateGiven} />
      <CoverageBar shares={bar} />
      <p className={styles.sums}>
        {bar.map((share) => (
          <CoverageWord key={share.state} state={share.state} quantity={share.quantity} />
        ))}
      </p>
      {standing.stops > 0 && (
        <p>
          <Critical stops /> {standing.stops === 1 ? 'one line stops it' : `${standing.stops} lines stop it`}
        </p>
      )}
    </div>
  );
}

type AdviceShown = Pick<Advice, 'kind' | 'date' | 'conditions' | 'toFind'>;

/** Solid where it can be promised, in a dashed box behind "if" where it rests on something, words where there is none. */
function DateSaid({ advice, dateGiven }: { readonly advice: AdviceShown; readonly dateGiven: string | null }) {
  if (advice.date === null)
    return (
      <p className={styles.date}>
        <span className={styles.none}>No date</span>{' '}
        <span className={styles.beside}>
          {advice.toFind.length > 0 && `to be found: ${advice.toFind.map(({ number, name }) => number || name).join(', ')}`}
        </span>
      </p>
    );
  const isLate = dateGiven !== null && advice.date > dateGiven;
  const rests = advice.conditions.length === 1 ? 'rests on one thing' : `rests on ${advice.conditions.length} things`;
  return (
    <p className={styles.date}>
      <span className={advice.kind === 'if' ? styles.if : undefined}>
        <span aria-hidden="true">
          {advice.kind === 'if' && 'if '}
          {sayDay(advice.date)}
        </span>
        <span className="hidden">
          {advice.kind === 'if' ? '“if” date, ' : 'firm date, '}
          {sayDayAloud(advice.date)}
        </span>
      </span>{' '}
      <span className={styles.beside}>
        {advice.kind === 'if' ? rests : 'can be promised'}
        {isLate && (
          <>
            , <b>after the day that was given</b>
          </>
        )}
      </span>
    </p>
  );
}
