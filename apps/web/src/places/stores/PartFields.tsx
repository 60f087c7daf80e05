import { Material } from '@corewright/contracts/base';
import { FieldPair } from '../../ui/Form.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';

export interface PartKeyed {
  readonly name: string;
  readonly description: string;
  readonly nicknames: string;
  readonly material: Material;
  readonly polymer: string;
}

export const noPartKeyed: PartKeyed = { name: '', description: '', nicknames: '', material: 'metal', polymer: '' };

const MATERIALS = Material.options.map((material) => ({ value: material, label: material }));

export interface PartFieldsProps {
  readonly keyed: PartKeyed;
  readonly onChange: (more: Partial<PartKeyed>) => void;
  readonly wasTried: boolean;
}

/** What a part is: its name, what it is called in the shop, what it is made of. */
export function PartFields({ keyed, onChange, wasTried }: PartFieldsProps) {
  return (
    <>
      <TextField
        label="What it is"
        value={keyed.name}
        onChange={(name) => onChange({ name })}
        note="such as: oil seal, worm input"
        error={wasTried && keyed.name.trim() === '' ? 'Say what it is.' : null}
        maxLength={200}
      />
      <FieldPair>
        <SelectField
          label="Material"
          value={keyed.material}
          choices={MATERIALS}
          onChange={(material) => onChange({ material })}
        />
        {keyed.material === 'rubber' && (
          <TextField
            label="Kind of rubber"
            value={keyed.polymer}
            onChange={(polymer) => onChange({ polymer })}
            note="NBR, FKM …; it decides how long one keeps. Empty where nobody knows"
            maxLength={20}
          />
        )}
      </FieldPair>
      <TextField
        label="Called in the shop"
        value={keyed.nicknames}
        onChange={(nicknames) => onChange({ nicknames })}
        note="parted by semicolons: the big seal; worm seal"
        maxLength={200}
      />
      <TextField
        label="More about it"
        value={keyed.description}
        onChange={(description) => onChange({ description })}
        lines={2}
        maxLength={4000}
      />
    </>
  );
}

/** What is sent of it: a part that is no rubber has no kind of rubber. */
export function partSent(keyed: PartKeyed): PartKeyed {
  return keyed.material === 'rubber' ? keyed : { ...keyed, polymer: '' };
}
