import type { Today } from '@corewright/contracts/today';
import { classNames } from '../../ui/class-names.js';
import { Go } from '../../ui/Go.js';
import { sayDayShort, sayWeekday } from '../../ui/say-when.js';
import styles from './Ruler.module.css';

type Mark = Today['ruler'][number];

/** The coming working days as a steel rule: what is promised, what comes, when the shop is shut. */
export function Ruler({ today }: { readonly today: Today }) {
  return (
    <>
      <ol className={styles.steel} aria-label="The coming days">
        {today.days.map((day) => (
          <Day
            key={day.day}
            day={day.day}
            working={day.working}
            isToday={day.day === today.day}
            marks={today.ruler.filter((mark) => mark.day === day.day)}
          />
        ))}
      </ol>
      <p className={styles.key}>
        Red foot: promised. Barred foot: something comes, broken bars: not confirmed. Slanted ground: closed.
      </p>
    </>
  );
}

interface DayProps {
  readonly day: string;
  readonly working: boolean;
  readonly isToday: boolean;
  readonly marks: readonly Mark[];
}

function Day({ day, working, isToday, marks }: DayProps) {
  const promised = marks.some((mark) => mark.kind === 'promised');
  const comes = marks.filter((mark) => mark.kind === 'receipt');
  const foot = promised
    ? styles.promised
    : comes.length === 0
      ? null
      : comes.some((mark) => mark.certain)
        ? styles.comes
        : styles.mayCome;
  return (
    <li
      className={classNames(
        sayWeekday(day) === 'Monday' && styles.monday,
        isToday && styles.now,
        !working && styles.shut,
        marks.length === 0 && !isToday && styles.none,
        foot,
      )}
      aria-current={isToday ? 'date' : undefined}
    >
      <b>
        {sayWeekday(day).slice(0, 3)} {sayDayShort(day)}
      </b>
      {isToday && <small className={styles.todayWord}>today</small>}
      {marks.map((mark) => (
        <small key={`${mark.kind} ${mark.words}`}>
          {mark.path === null ? mark.words : <Go href={mark.path}>{mark.words}</Go>}
          {!mark.certain && ', not confirmed'}
        </small>
      ))}
      {!working && marks.length === 0 && <small>closed</small>}
    </li>
  );
}
