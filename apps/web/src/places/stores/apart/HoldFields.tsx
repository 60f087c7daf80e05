import { useQuery } from '@tanstack/react-query';
import { FieldPair } from '../../../ui/Form.js';
import { SelectField } from '../../../ui/SelectField.js';
import { holdsQuery } from './apart-queries.js';
import { LookAgainField, NeededField } from './Fields.js';

/** A hold as it is keyed. */
export interface HoldKeyed {
  readonly reason: string;
  /** empty: whoever keeps the books */
  readonly mayLiftId: string;
  /** empty: no day */
  readonly lookAgainOn: string;
}

export const noHoldKeyed: HoldKeyed = { reason: '', mayLiftId: '', lookAgainOn: '' };

/** As it is sent. */
export function holdOf({ reason, mayLiftId, lookAgainOn }: HoldKeyed) {
  return { reason, mayLiftId: mayLiftId === '' ? null : mayLiftId, lookAgainOn: lookAgainOn === '' ? null : lookAgainOn };
}

export interface HoldFieldsProps {
  readonly keyed: HoldKeyed;
  readonly onKey: (keyed: HoldKeyed) => void;
  readonly wasTried: boolean;
}

/** Why something is held back, who may lift it, and when somebody is to look again. */
export function HoldFields({ keyed, onKey, wasTried }: HoldFieldsProps) {
  const lifters = useQuery(holdsQuery).data?.lifters ?? [];
  return (
    <>
      <NeededField
        label="Why it is held back"
        value={keyed.reason}
        onChange={(reason) => onKey({ ...keyed, reason })}
        note="it stays on the record with your name"
        missing="Say why."
        wasTried={wasTried}
        autoFocus
      />
      <FieldPair>
        <SelectField
          label="Who may lift it"
          value={keyed.mayLiftId}
          choices={[
            { value: '', label: 'whoever keeps the books' },
            ...lifters.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(mayLiftId) => onKey({ ...keyed, mayLiftId })}
          note="nobody else can, while that person is here"
        />
        <LookAgainField
          value={keyed.lookAgainOn}
          onChange={(lookAgainOn) => onKey({ ...keyed, lookAgainOn })}
          note="it stands on Today from that day; it may stay empty"
          wasTried={wasTried}
        />
      </FieldPair>
    </>
  );
}
