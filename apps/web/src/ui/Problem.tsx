import type { ReactNode } from 'react';
import { Acts } from './Button.js';
import styles from './Problem.module.css';

export interface ProblemProps {
  /** One or two words in large letters: "Not picked". */
  readonly word: string;
  /** The reason, with what was kept. */
  readonly reason: ReactNode;
  /** What to do next, in words. */
  readonly next?: ReactNode;
  /** Buttons for what can be done. */
  readonly choices?: ReactNode;
}

/** Something was refused or failed: the word, the reason beside it, what was kept, and the choices. */
export function Problem({ word, reason, next, choices }: ProblemProps) {
  return (
    <div className={styles.problem} role="alert">
      <b className={styles.word}>{word}</b>
      <div className={styles.body}>
        <p className={styles.reason}>{reason}</p>
        {next !== undefined && next !== null && <p>{next}</p>}
        {choices !== undefined && choices !== null && <Acts>{choices}</Acts>}
      </div>
    </div>
  );
}

export interface FailureProps {
  /** What was caught: a problem document of the server, or a failure on the way. */
  readonly error: unknown;
  readonly word?: string;
  /** What was kept: said so that nobody keys it twice. */
  readonly kept?: string;
  readonly choices?: ReactNode;
}

/** A caught failure in words. A problem document brings its own; anything else is the network or a fault of ours. */
export function Failure({ error, word = 'Not done', kept, choices }: FailureProps) {
  const said = sayFailure(error);
  return (
    <Problem
      word={word}
      reason={said.title}
      next={
        <>
          {said.detail} {kept}
          {said.reference !== null && <span className="small quiet"> Reference for the log: {said.reference}</span>}
        </>
      }
      choices={choices}
    />
  );
}

export interface SaidFailure {
  readonly title: string;
  readonly detail: string;
  /** The correlation id under which the server has logged it. */
  readonly reference: string | null;
}

/** The words for a caught failure. */
export function sayFailure(error: unknown): SaidFailure {
  if (error instanceof Error) {
    const title = textOf(error, 'title');
    if (title !== null) return { title, detail: textOf(error, 'detail') ?? '', reference: textOf(error, 'correlationId') };
    if (error instanceof TypeError)
      return {
        title: 'The server does not answer.',
        detail: 'Look whether it runs and whether this device has the network, then try again.',
        reference: null,
      };
  }
  return {
    title: 'Something went wrong in this program.',
    detail: 'Load the page again. What was saved is on the server.',
    reference: null,
  };
}

function textOf(source: object, name: string): string | null {
  const value: unknown = Reflect.get(source, name);
  return typeof value === 'string' && value !== '' ? value : null;
}
