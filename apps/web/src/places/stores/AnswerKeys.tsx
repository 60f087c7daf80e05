import type { CoreAnswer } from '@corewright/contracts/acceptance';
import type { ReactNode } from 'react';
import { classNames } from '../../ui/class-names.js';
import { TextField } from '../../ui/TextField.js';
import styles from './Acceptance.module.css';
import { ANSWERS } from './core-points.js';

export interface Answered {
  readonly answer: CoreAnswer;
  readonly note: string;
}

export interface AnswerKeysProps {
  readonly question: string;
  readonly children?: ReactNode;
  readonly said: Answered;
  readonly onSay: (said: Answered) => void;
}

/** One question of a sheet: three keys large enough for a glove, and a note where there is something to say. */
export function AnswerKeys({ question, children, said, onSay }: AnswerKeysProps) {
  return (
    <li className={styles.item}>
      <fieldset className={styles.keys}>
        <legend>{question}</legend>
        {children}
        {ANSWERS.map((answer) => (
          <button
            key={answer}
            type="button"
            className={classNames(styles.key, answer === said.answer && styles.chosen, answer === 'not looked at' && styles.open)}
            aria-pressed={answer === said.answer}
            onClick={() => onSay({ ...said, answer })}
          >
            {answer}
          </button>
        ))}
      </fieldset>
      {said.answer !== 'not looked at' && (
        <TextField
          label={`Note on: ${question}`}
          value={said.note}
          onChange={(note) => onSay({ ...said, note })}
          note="may be left empty"
          maxLength={200}
        />
      )}
    </li>
  );
}
