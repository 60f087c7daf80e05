import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Go } from '../../../ui/Go.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { PrintOnce } from '../../labels/PrintOnce.js';
import styles from '../ThingScreen.module.css';
import { useSplitLot } from './regroup-actions.js';

type Lot = Extract<Thing, { kind: 'lot' }>;

/** Two bags lie under one label: so many become a lot of their own, the same in all else. */
export function SplitForm({ lot, onClose }: { readonly lot: Lot; readonly onClose: () => void }) {
  const places = lot.holdings.filter(({ holderKind }) => holderKind === 'place');
  const [quantity, setQuantity] = useState('');
  const [placeId, setPlaceId] = useState(places[0]?.holderId ?? '');
  const [code, setCode] = useState('');
  const [why, setWhy] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const splitting = useSplitLot(lot.id);
  useScanTaker((parsed) => {
    if (splitting.isSuccess || parsed.kind !== 'L') return false;
    setCode(parsed.code);
    return true;
  });
  if (splitting.isSuccess) return <SplitDone done={splitting.data} isPrintedBefore={code.trim() !== ''} onClose={onClose} />;
  const submit = () => {
    setWasTried(true);
    if (quantity.trim() === '' || why.trim() === '' || splitting.isPending) return;
    splitting.mutate({ id: newKey(), quantity: quantity.trim(), placeId, code: code.trim() === '' ? null : code, why });
  };
  return (
    <div className={styles.hold}>
      <Form label="Split it" onSubmit={submit}>
        <QuantityField
          label="How many are to be a lot of their own"
          value={quantity}
          onChange={setQuantity}
          unit={`${lot.part?.unitOfMeasure ?? 'each'}, of ${lot.held}`}
          error={wasTried && quantity.trim() === '' ? 'Key how many.' : null}
          autoFocus
        />
        {places.length > 1 && (
          <SelectField
            label="Where they lie"
            value={placeId}
            choices={places.map(({ holderId, words }) => ({ value: holderId, label: words }))}
            onChange={setPlaceId}
          />
        )}
        <TextField
          label="Their label: scan a blank one, or one of several that this bears"
          value={code}
          onChange={setCode}
          note="empty: they are given a new code, and its label is printed"
          maxLength={64}
        />
        <TextField
          label="Why it is split"
          value={why}
          onChange={setWhy}
          error={wasTried && why.trim() === '' ? 'Say why.' : null}
          note="it stays on the record with your name"
          maxLength={200}
        />
        <FormFoot act="Split it" failed="Not split" sending={splitting} onClose={onClose} />
      </Form>
    </div>
  );
}

interface SplitDoneProps {
  readonly done: { readonly lot: { readonly id: string; readonly code: string }; readonly words: string };
  readonly isPrintedBefore: boolean;
  readonly onClose: () => void;
}

function SplitDone({ done: { lot, words }, isPrintedBefore, onClose }: SplitDoneProps) {
  return (
    <div className={styles.hold} role="status">
      <p>
        <b>{words}</b> <Go href={`/stores/things/${lot.id}`}>Look at it</Go>
      </p>
      {!isPrintedBefore && <PrintOnce codes={[lot.code]} stock="bag label" act="Print its label" />}
      <Acts>
        <Button look="plain" onPress={onClose}>
          Done
        </Button>
      </Acts>
    </div>
  );
}
