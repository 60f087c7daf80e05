import { type ReactNode, useId } from 'react';
import { ComboInput } from './ComboInput.js';
import type { ComboOption, ComboSource } from './combo-options.js';
import styles from './Field.module.css';
import { FieldNotes } from './TextField.js';

export interface ComboFieldProps {
  readonly label: string;
  /** What stands in the field. */
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly onChoose: (option: ComboOption) => void;
  /** Keep one function between renders: a new one starts a new search. */
  readonly source: ComboSource;
  readonly note?: ReactNode;
  readonly error?: string | null;
  readonly autoFocus?: boolean;
}

/** A field that finds what is meant while it is keyed. Words that match nothing stay as they are. */
export function ComboField(props: ComboFieldProps) {
  const id = useId();
  return (
    <div className={styles.field}>
      <label className={styles.label} htmlFor={id}>
        {props.label}
      </label>
      <ComboInput
        id={id}
        className={styles.in}
        text={props.text}
        onText={props.onText}
        onChoose={props.onChoose}
        source={props.source}
        describedBy={`${id}-note ${id}-error`}
        isInvalid={props.error !== undefined && props.error !== null && props.error !== ''}
        autoFocus={props.autoFocus}
      />
      <FieldNotes id={id} note={props.note} error={props.error} />
    </div>
  );
}
