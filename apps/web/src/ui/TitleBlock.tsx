import type { ReactNode } from 'react';
import { classNames } from './class-names.js';
import styles from './TitleBlock.module.css';

export interface Fact {
  readonly label: string;
  readonly value: ReactNode;
  /** A second, small line under the value. */
  readonly note?: ReactNode;
}

export interface TitleBlockProps {
  readonly facts: readonly Fact[];
  readonly className?: string;
}

/** Facts that stay, in the cells of a drawing's title block. The cells share the width; on a phone there are two a row. */
export function TitleBlock({ facts, className }: TitleBlockProps) {
  return (
    <dl className={classNames(styles.block, className)}>
      {facts.map((fact) => (
        <div key={fact.label}>
          <dt>{fact.label}</dt>
          <dd>
            {fact.value}
            {fact.note !== undefined && fact.note !== null && <small>{fact.note}</small>}
          </dd>
        </div>
      ))}
    </dl>
  );
}
