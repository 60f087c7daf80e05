import { type ReactNode, useId } from 'react';
import { classNames } from './class-names.js';
import styles from './Field.module.css';
import { FieldNotes } from './TextField.js';

export interface Choice<Value extends string> {
  readonly value: Value;
  readonly label: string;
}

export interface SelectFieldProps<Value extends string> {
  readonly label: string;
  /** For ears only, where what stands beside it says the same to eyes. */
  readonly isLabelHidden?: boolean;
  readonly value: Value;
  readonly choices: readonly Choice<Value>[];
  readonly onChange: (value: Value) => void;
  readonly note?: ReactNode;
  readonly error?: string | null;
  readonly isDisabled?: boolean;
  readonly name?: string;
}

/** One of a short list. The browser's own list: it works with keys, with gloves on a phone, and with every reader. */
export function SelectField<Value extends string>(props: SelectFieldProps<Value>) {
  const id = useId();
  return (
    <div className={styles.field}>
      <label className={props.isLabelHidden === true ? 'hidden' : styles.label} htmlFor={id}>
        {props.label}
      </label>
      <select
        id={id}
        name={props.name}
        className={classNames(styles.in, styles.select)}
        value={props.value}
        disabled={props.isDisabled}
        aria-describedby={`${id}-note ${id}-error`}
        onChange={(event) => {
          const chosen = props.choices.find((choice) => choice.value === event.target.value);
          if (chosen !== undefined) props.onChange(chosen.value);
        }}
      >
        {props.choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.label}
          </option>
        ))}
      </select>
      <FieldNotes id={id} note={props.note} error={props.error} />
    </div>
  );
}
