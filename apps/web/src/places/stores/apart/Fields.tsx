import { ComboField } from '../../../ui/ComboField.js';
import { RadioRow, type RadioRowProps } from '../../../ui/RadioRow.js';
import { TextField, type TextFieldProps } from '../../../ui/TextField.js';
import { findCustomers } from '../../jobs/queries.js';

/** What every field of these forms knows. */
interface FieldProps {
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** somebody tried to send the form: what is lacking is said from then on */
  readonly wasTried: boolean;
}

export interface NeededFieldProps
  extends FieldProps,
    Pick<TextFieldProps, 'label' | 'note' | 'type' | 'autoFocus' | 'maxLength'> {
  /** what is said where it is left empty */
  readonly missing: string;
}

/** Words without which the form is not sent. */
export function NeededField({ missing, wasTried, ...props }: NeededFieldProps) {
  return <TextField maxLength={200} {...props} error={wasTried && props.value.trim() === '' ? missing : null} />;
}

/** A day without which the form is not sent. */
export function DayField(props: FieldProps & { readonly label: string }) {
  return <NeededField {...props} type="date" missing="Name the day." />;
}

export interface LookAgainFieldProps extends FieldProps {
  readonly note: string;
  /** whether it may not stay empty */
  readonly isNeeded?: boolean;
}

/** Where the day stands of what is kept for its owner. */
export const onItsTag = 'it stands on Today from that day, and on its tag';

/** The next day on which somebody looks at it. */
export function LookAgainField({ isNeeded = false, wasTried, ...props }: LookAgainFieldProps) {
  return (
    <NeededField
      {...props}
      label="Look again on"
      type="date"
      wasTried={wasTried && isNeeded}
      missing="Name the next day on which somebody looks again."
    />
  );
}

export function AskWhomField({ note, ...props }: Omit<FieldProps, 'wasTried'> & { readonly note: string }) {
  return <TextField {...props} label="Whom to ask" note={`${note}; it may stay empty`} maxLength={200} />;
}

/** A customer whose it is from now on. */
export function OwnerField({ value, onChange, wasTried, note }: FieldProps & { readonly note: string }) {
  return (
    <ComboField
      label="Whose it is"
      text={value}
      onText={onChange}
      onChoose={({ label }) => onChange(label)}
      source={findCustomers}
      note={note}
      error={wasTried && value.trim() === '' ? 'Say whose it is.' : null}
    />
  );
}

export function PaidField({ note, ...props }: Omit<FieldProps, 'wasTried'> & { readonly note: string }) {
  return <TextField {...props} label="What was paid" inputMode="decimal" note={note} />;
}

/** One of a few acts. @param missing what is said where none is chosen */
export function ActRow<Act extends string>({
  wasTried,
  missing,
  ...props
}: RadioRowProps<Act> & { readonly wasTried: boolean; readonly missing: string }) {
  return (
    <>
      <RadioRow {...props} />
      {wasTried && props.value === null && <p role="alert">{missing}</p>}
    </>
  );
}
