import { Label, Radio, RadioGroup } from 'react-aria-components';
import styles from './Field.module.css';
import type { Choice } from './SelectField.js';

export interface RadioRowProps<Value extends string> {
  readonly label: string;
  readonly value: Value | null;
  readonly choices: readonly Choice<Value>[];
  readonly onChange: (value: Value) => void;
}

/** A few choices in a row, all in sight. Arrow keys move between them. */
export function RadioRow<Value extends string>({ label, value, choices, onChange }: RadioRowProps<Value>) {
  return (
    <RadioGroup
      className={styles.radios}
      orientation="horizontal"
      value={value}
      onChange={(picked) => {
        const choice = choices.find((candidate) => candidate.value === picked);
        if (choice !== undefined) onChange(choice.value);
      }}
    >
      <Label className={styles.label}>{label}</Label>
      {choices.map((choice) => (
        <Radio key={choice.value} value={choice.value} className={styles.radio ?? ''}>
          <span className={styles.dot} aria-hidden="true" />
          {choice.label}
        </Radio>
      ))}
    </RadioGroup>
  );
}
