import { type HTMLInputAutoCompleteAttribute, type ReactNode, useId } from 'react';
import styles from './Field.module.css';

export interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly onBlur?: () => void;
  /** What the entry means, or what may be keyed; under the field. */
  readonly note?: ReactNode;
  /** What is wrong and what to do, in words. */
  readonly error?: string | null;
  readonly type?: 'text' | 'password' | 'date' | 'time' | 'search' | 'email' | 'tel';
  readonly inputMode?: 'text' | 'decimal' | 'numeric' | 'search';
  readonly lines?: number;
  readonly isRequired?: boolean;
  readonly isDisabled?: boolean;
  readonly autoFocus?: boolean;
  readonly autoComplete?: HTMLInputAutoCompleteAttribute;
  readonly name?: string;
  readonly maxLength?: number;
}

/** A field for words; with `lines` it takes several. The label stands above, the note or the fault beneath. */
export function TextField(props: TextFieldProps) {
  const id = useId();
  const common = {
    id,
    className: styles.in,
    value: props.value,
    required: props.isRequired,
    disabled: props.isDisabled,
    autoComplete: props.autoComplete ?? 'off',
    name: props.name,
    maxLength: props.maxLength,
    'aria-invalid': hasText(props.error) ? true : undefined,
    'aria-describedby': `${id}-note ${id}-error`,
    onBlur: props.onBlur,
    autoFocus: props.autoFocus,
  };
  return (
    <div className={styles.field}>
      <label className={styles.label} htmlFor={id}>
        {props.label}
      </label>
      {props.lines === undefined ? (
        <input
          {...common}
          type={props.type ?? 'text'}
          inputMode={props.inputMode}
          onChange={(event) => props.onChange(event.target.value)}
        />
      ) : (
        <textarea {...common} rows={props.lines} onChange={(event) => props.onChange(event.target.value)} />
      )}
      <FieldNotes id={id} note={props.note} error={props.error} />
    </div>
  );
}

/** The lines under a field; the fault is announced when it appears. */
export function FieldNotes({
  id,
  note,
  error,
}: {
  readonly id: string;
  readonly note?: ReactNode;
  readonly error?: string | null;
}) {
  return (
    <>
      {note !== undefined && note !== null && (
        <span className={styles.note} id={`${id}-note`}>
          {note}
        </span>
      )}
      <span id={`${id}-error`} aria-live="polite">
        {hasText(error) && <span className={styles.error}>{error}</span>}
      </span>
    </>
  );
}

function hasText(value: string | null | undefined): value is string {
  return value !== undefined && value !== null && value !== '';
}
