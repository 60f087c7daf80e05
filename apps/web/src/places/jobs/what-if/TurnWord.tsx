import type { Turn } from '@corewright/contracts/what-if';
import type { ReactNode } from 'react';
import styles from './WhatIf.module.css';

const WORDS: Readonly<Record<Turn, string>> = {
  better: 'better',
  worse: 'worse',
  both: 'some of each',
  otherwise: 'as good, from elsewhere',
};

/** Up is full, down is empty, both point both ways, and what is as good lies level. */
const SHAPES: Readonly<Record<Turn, ReactNode>> = {
  better: <path d="M9.5 1.5 18 16.5H1Z" fill="currentColor" stroke="currentColor" strokeWidth="1.5" />,
  worse: <path d="M9.5 16.5 1.5 2.5H17.5Z" fill="none" stroke="currentColor" strokeWidth="2.2" />,
  both: (
    <>
      <path d="M5 3 9.2 10H.8Z" fill="currentColor" stroke="currentColor" strokeWidth="1.2" />
      <path d="M14 16 10 9H18Z" fill="none" stroke="currentColor" strokeWidth="1.8" />
    </>
  ),
  otherwise: <path d="M1 6H18M1 13H18" fill="none" stroke="currentColor" strokeWidth="2.4" />,
};

/** Whether it would be better or worse: a shape and a word. */
export function TurnWord({ turn }: { readonly turn: Turn }) {
  return (
    <span className={styles.turn} data-turn={turn}>
      <svg className={styles.turnMark} viewBox="0 0 19 19" aria-hidden="true" focusable="false">
        {SHAPES[turn]}
      </svg>
      <b>{WORDS[turn]}</b>
    </span>
  );
}
