import { type ReactNode, useId } from 'react';
import { classNames } from './class-names.js';
import styles from './Section.module.css';

export interface SectionProps {
  readonly title: ReactNode;
  /** A quiet remark at the right of the rule: a count, a time, whose. */
  readonly aside?: ReactNode;
  readonly children: ReactNode;
  readonly className?: string;
}

/** A part of a page: a heavy rule opens it. */
export function Section({ title, aside, children, className }: SectionProps) {
  const id = useId();
  return (
    <section className={classNames(styles.section, className)} aria-labelledby={id}>
      <div className={styles.head}>
        <h2 id={id}>{title}</h2>
        {aside !== undefined && <span className="quiet">{aside}</span>}
      </div>
      {children}
    </section>
  );
}

export interface PageHeadProps {
  readonly title: ReactNode;
  readonly note?: ReactNode;
  /** Buttons for what is done on the whole page. */
  readonly acts?: ReactNode;
}

/** The head of a page: its name, one line about it, and what can be done. */
export function PageHead({ title, note, acts }: PageHeadProps) {
  return (
    <header className={styles.page}>
      <div>
        <h1>{title}</h1>
        {note !== undefined && <p className="quiet">{note}</p>}
      </div>
      {acts}
    </header>
  );
}
