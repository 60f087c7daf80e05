import type { LotThing } from '@corewright/contracts/stores';
import type { BearingPacking } from '@corewright/standards/bearing-storage';
import { useState } from 'react';
import type * as z from 'zod';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { usePreservation } from './actions.js';
import { bearingStores, packings, type StoreChoice, storeOf } from './bearing-choices.js';
import styles from './ThingScreen.module.css';

type PackingChoice = BearingPacking | 'none';
const choices: readonly Choice<PackingChoice>[] = [{ value: 'none', label: 'no preserved bearing' }, ...packings];

export interface PreserveFormProps {
  readonly lot: z.infer<typeof LotThing>;
  readonly onClose: () => void;
}

/** How a lot of bearings is preserved and was kept; its storage period is reckoned from that and the packet's date. */
export function PreserveForm({ lot, onClose }: PreserveFormProps) {
  const [packing, setPacking] = useState<PackingChoice>(lot.preservation?.packing ?? 'none');
  const [store, setStore] = useState<StoreChoice>(lot.preservation?.store ?? 'not known');
  const change = usePreservation(lot, onClose);
  const submit = () => {
    if (change.isPending) return;
    change.mutate(packing === 'none' ? { packing: null, store: null } : { packing, store: storeOf(store) });
  };
  return (
    <div className={styles.hold}>
      <Form label="How it is preserved" onSubmit={submit}>
        <SelectField
          label="The bearing is"
          value={packing}
          choices={choices}
          onChange={setPacking}
          note="its period counts from the packet's date, while the packet is closed"
        />
        {packing === 'open-preserved' && (
          <SelectField
            label="How it was stored"
            value={store}
            choices={bearingStores}
            onChange={setStore}
            note="the shortest period counts where it is not known"
          />
        )}
        {change.isError && <Failure error={change.error} kept="What you chose is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            Keep it
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
