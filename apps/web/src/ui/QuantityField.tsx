import { TextField } from './TextField.js';

export interface QuantityFieldProps {
  readonly label: string;
  /** An exact decimal as keyed; it travels as a string and never becomes a floating-point number. */
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** The unit that stands in the note: each, mm, m, g. */
  readonly unit: string;
  readonly error?: string | null;
  readonly autoFocus?: boolean;
  readonly isRequired?: boolean;
}

/** A count or a measure. A comma for the decimal point is taken as one. */
export function QuantityField({ label, value, onChange, unit, error, autoFocus, isRequired }: QuantityFieldProps) {
  return (
    <TextField
      label={label}
      value={value}
      onChange={(typed) => onChange(typed.replace(',', '.'))}
      inputMode="decimal"
      note={unit}
      error={error}
      autoFocus={autoFocus}
      isRequired={isRequired}
    />
  );
}
