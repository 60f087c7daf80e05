import { useQuery } from '@tanstack/react-query';
import { Acts, Button } from '../../../ui/Button.js';
import { FieldPair } from '../../../ui/Form.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { unitTypesQuery } from '../../settings/queries.js';
import styles from './Consumables.module.css';
import type { SettingsKeyed } from './settings-keyed.js';

export interface FlatChargesProps {
  readonly keyed: SettingsKeyed;
  readonly onChange: (more: Partial<SettingsKeyed>) => void;
}

/** So much a job: for all, and for unit types that have an amount of their own. */
export function FlatCharges({ keyed, onChange }: FlatChargesProps) {
  const types = useQuery(unitTypesQuery).data?.unitTypes ?? [];
  const rows = keyed.flatByType;
  const changeRow = (index: number, more: Partial<(typeof rows)[number]>) =>
    onChange({ flatByType: rows.map((row, at) => (at === index ? { ...row, ...more } : row)) });
  return (
    <>
      <FieldPair>
        <TextField
          label="So much a job, of any type"
          value={keyed.flatForAll}
          onChange={(flatForAll) => onChange({ flatForAll })}
          inputMode="decimal"
          note="empty where only the types below are charged"
        />
        <TextField
          label="For jobs opened from"
          type="date"
          value={keyed.flatFrom}
          onChange={(flatFrom) => onChange({ flatFrom })}
          note="empty is today; jobs opened before keep what they have"
        />
      </FieldPair>
      {rows.map((row, index) => (
        <div key={index} className={styles.flat}>
          <SelectField
            label={`Unit type ${index + 1}`}
            value={row.unitTypeId}
            choices={[
              { value: '', label: 'none: leave it out' },
              ...types.map((type) => ({ value: type.id, label: `${type.name}, ${type.kind}` })),
            ]}
            onChange={(unitTypeId) => changeRow(index, { unitTypeId })}
          />
          <TextField
            label={`So much a job of type ${index + 1}`}
            value={row.amount}
            onChange={(amount) => changeRow(index, { amount })}
            inputMode="decimal"
          />
        </div>
      ))}
      {types.length > 0 && (
        <Acts>
          <Button onPress={() => onChange({ flatByType: [...rows, { unitTypeId: '', amount: '' }] })}>
            Another amount for a unit type
          </Button>
        </Acts>
      )}
    </>
  );
}
