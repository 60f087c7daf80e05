import { type Charging, type ConsumableSettings, chargings } from '@corewright/contracts/consumables';
import { useState } from 'react';
import { CheckField } from '../../../ui/CheckField.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { TextField } from '../../../ui/TextField.js';
import { useKeepConsumable } from './consumable-actions.js';
import { FlatCharges } from './FlatCharges.js';
import { keyedOf, noSettingsKeyed, type SettingsKeyed, settingsSent } from './settings-keyed.js';

export interface SettingsFormProps {
  readonly partId: string;
  /** null: the part is no consumable yet */
  readonly settings: ConsumableSettings | null;
  readonly onClose: () => void;
}

const words: Readonly<Record<Charging, string>> = {
  'by use': 'by use',
  flat: 'so much a job',
  'not at all': 'not to jobs',
};

/** What a container is, how long it keeps once opened, how it comes onto jobs. */
export function SettingsForm({ partId, settings, onClose }: SettingsFormProps) {
  const [keyed, setKeyed] = useState(settings === null ? noSettingsKeyed : keyedOf(settings));
  const [wasTried, setWasTried] = useState(false);
  const keeping = useKeepConsumable(partId, settings?.version ?? null, onClose);
  const change = (more: Partial<SettingsKeyed>) => setKeyed({ ...keyed, ...more });
  const read = settingsSent(keyed);
  const fault = wasTried && 'fault' in read ? read.fault : null;
  const submit = () => {
    setWasTried(true);
    if ('sent' in read && !keeping.isPending) keeping.mutate(read.sent);
  };
  return (
    <Form label="Kept by the container" onSubmit={submit}>
      <FieldPair>
        <TextField
          label="What a container is"
          value={keyed.container}
          onChange={(container) => change({ container })}
          note="cartridge, tin 1 l, pack of rags"
          error={fault === 'container' ? 'Say what a container is.' : null}
          isRequired
          maxLength={200}
        />
        <TextField
          label="Days that it keeps once opened"
          value={keyed.keepsDays}
          onChange={(keepsDays) => change({ keepsDays })}
          inputMode="numeric"
          note="as its maker says; empty: as long as the packet says"
          error={fault === 'keepsDays' ? 'Key whole days, 1 or more, or leave it empty.' : null}
        />
      </FieldPair>
      <CheckField isSelected={keyed.oneAtATime} onChange={(oneAtATime) => change({ oneAtATime })}>
        One container at a time is open
      </CheckField>
      <RadioRow<Charging>
        label="Charged"
        value={keyed.charged}
        choices={chargings.map((value) => ({ value, label: words[value] }))}
        onChange={(charged) => change({ charged })}
      />
      {keyed.charged === 'by use' && (
        <FieldPair>
          <TextField
            label="Uses that a container gives"
            value={keyed.usesPerContainer}
            onChange={(usesPerContainer) => change({ usesPerContainer })}
            inputMode="numeric"
            note="the workshop’s own figure: 20 charges a twentieth of its cost each use"
            error={fault === 'usesPerContainer' ? 'Key a whole number, 1 or more.' : null}
          />
          <TextField
            label="Or so much money each use"
            value={keyed.useAmount}
            onChange={(useAmount) => change({ useAmount })}
            inputMode="decimal"
            note="one of the two"
          />
        </FieldPair>
      )}
      {keyed.charged === 'flat' && <FlatCharges keyed={keyed} onChange={change} />}
      <FormFoot act="Keep it" failed="Not kept" sending={keeping} onClose={onClose} />
    </Form>
  );
}
