import type { ReactNode } from 'react';
import { Code } from './Code.js';
import { classNames } from './class-names.js';
import { Go } from './Go.js';
import styles from './Tag.module.css';

export type TagKind = 'unit' | 'lot' | 'component' | 'unsorted' | 'job' | 'place' | 'tool';

const KIND_WORDS: Readonly<Record<TagKind, string>> = {
  unit: 'Unit',
  lot: 'Lot',
  component: 'Component',
  unsorted: 'Unsorted',
  job: 'Job',
  place: 'Place',
  tool: 'Tool',
};

const KIND_LETTERS: Readonly<Record<string, TagKind>> = {
  U: 'unit',
  L: 'lot',
  C: 'component',
  X: 'unsorted',
  J: 'job',
  P: 'place',
  T: 'tool',
};

/** What kind of tag a code hangs on, by its letter; a letter that hangs on nothing is taken as unsorted. */
export function tagKindOf(code: string): TagKind {
  return KIND_LETTERS[code.slice(0, 1)] ?? 'unsorted';
}

export interface TagProps {
  readonly kind: TagKind;
  /** Absent while no code has been given out. */
  readonly code: string | null;
  /** The one fact in the top right corner: a grade, a count, a bench. */
  readonly fact?: ReactNode;
  /** What it is, in condensed letters. */
  readonly what?: ReactNode;
  /** Short facts at the foot, in order. */
  readonly foot?: readonly ReactNode[];
  /** With an address the whole tag is a link. */
  readonly href?: string;
  /** A larger tag heads a page. */
  readonly size?: 'usual' | 'large';
  /** The ground behind the tag, seen through its eyelet. */
  readonly ground?: 'paper' | 'sheet';
  readonly children?: ReactNode;
}

/** The tie-on tag: whatever carries a label looks like its label, and the cut of its ends tells the kind. */
export function Tag(props: TagProps) {
  const className = classNames(
    styles.tag,
    styles[props.kind],
    props.size === 'large' && styles.large,
    props.ground === 'sheet' && styles.onSheet,
  );
  const inside = <TagInside {...props} />;
  if (props.href === undefined) return <article className={className}>{inside}</article>;
  return (
    <Go className={className} href={props.href}>
      {inside}
    </Go>
  );
}

function TagInside({ kind, code, fact, what, foot, children }: TagProps) {
  const notes = (foot ?? []).filter((note) => note !== null && note !== undefined && note !== false && note !== '');
  return (
    <>
      <span className={styles.eye} aria-hidden="true" />
      {kind === 'place' && <span className={classNames(styles.eye, styles.second)} aria-hidden="true" />}
      <span className={styles.kind}>
        <span>{KIND_WORDS[kind]}</span>
        <span>{fact}</span>
      </span>
      <span className={styles.code}>{code === null ? 'no code yet' : <Code code={code} />}</span>
      {what !== undefined && <span className={styles.what}>{what}</span>}
      {children !== undefined && <span className={styles.words}>{children}</span>}
      {notes.length > 0 && (
        <span className={styles.foot}>
          {notes.map((note, index) => (
            <span key={index}>{note}</span>
          ))}
        </span>
      )}
    </>
  );
}

export interface MiniTagProps {
  readonly code: string;
  readonly href?: string;
}

/** The small tag for a row or a sentence that acts; elsewhere the code stands alone. */
export function MiniTag({ code, href }: MiniTagProps) {
  const className = classNames(styles.tag, styles.mini, href !== undefined && styles.tall);
  const inside = (
    <>
      <span className={styles.eye} aria-hidden="true" />
      <Code code={code} />
    </>
  );
  if (href === undefined) return <span className={className}>{inside}</span>;
  return (
    <Go className={className} href={href}>
      {inside}
    </Go>
  );
}
