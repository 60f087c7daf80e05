import { ApiProblem } from '../../api/problem.js';
import { CheckField } from '../../ui/CheckField.js';
import { ComboField } from '../../ui/ComboField.js';
import { FieldPair } from '../../ui/Form.js';
import { TextField } from '../../ui/TextField.js';
import { findMakers } from './queries.js';

export interface NumberKeyed {
  readonly makerName: string;
  readonly number: string;
  readonly isAnother: boolean;
}

export const noNumberKeyed: NumberKeyed = { makerName: '', number: '', isAnother: false };

export interface NumberFieldsProps {
  readonly keyed: NumberKeyed;
  readonly onChange: (keyed: NumberKeyed) => void;
  readonly wasTried: boolean;
  /** why the last try was refused; null before it */
  readonly error: Error | null;
}

/** Whose number, and the number as it is printed. One that differs only in how it is written is asked about. */
export function NumberFields({ keyed, onChange, wasTried, error }: NumberFieldsProps) {
  // the word that it is another number holds for the number that it was given of
  const put = (more: Partial<NumberKeyed>) => onChange({ ...keyed, isAnother: false, ...more });
  const asksIfAnother = keyed.isAnother || (error instanceof ApiProblem && error.code === 'written-otherwise');
  return (
    <>
      <FieldPair>
        <ComboField
          label="Whose number"
          text={keyed.makerName}
          onText={(makerName) => put({ makerName })}
          onChoose={(option) => put({ makerName: option.label })}
          source={findMakers}
          note="a maker who is not in the list is written down as a new one"
          error={wasTried && keyed.makerName.trim() === '' ? 'Say whose number it is.' : null}
        />
        <TextField
          label="Number"
          value={keyed.number}
          onChange={(number) => put({ number })}
          note="as it is printed, with its hyphens and spaces"
          error={wasTried && keyed.number.trim() === '' ? 'Key the number as it is printed.' : null}
          maxLength={60}
        />
      </FieldPair>
      {asksIfAnother && (
        <CheckField isSelected={keyed.isAnother} onChange={(isAnother) => put({ isAnother })}>
          it is another number all the same
        </CheckField>
      )}
    </>
  );
}

export function isNumberKeyed({ makerName, number }: NumberKeyed): boolean {
  return makerName.trim() !== '' && number.trim() !== '';
}
