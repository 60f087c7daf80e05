import type { Sale, SaleLine } from '@corewright/contracts/selling';
import { decimalFrom, formatDecimal, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { CheckField } from '../../../ui/CheckField.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { TextField } from '../../../ui/TextField.js';
import { PlaceField } from '../place/PlaceField.js';
import { useTakingBackSold } from './actions.js';

export interface TakeBackFormProps {
  readonly sale: Sale;
  readonly line: SaleLine;
  readonly onClose: () => void;
}

/** What was sold comes back: how many, where it lies from now on, why, and what became of the money. */
export function TakeBackForm({ sale, line, onClose }: TakeBackFormProps) {
  const [ids] = useState(() => ({ id: newKey(), newLotId: newKey() }));
  const [keyed, setKeyed] = useState({ quantity: leftOf(line), why: '', money: '', givenBack: '', placeId: '', fitted: false });
  const [wasTried, setWasTried] = useState(false);
  const taking = useTakingBackSold(sale.id, onClose);
  const put = (more: Partial<typeof keyed>) => setKeyed((before) => ({ ...before, ...more }));
  const isLot = line.thing.code.startsWith('L');
  const submit = () => {
    setWasTried(true);
    if (keyed.why.trim() === '' || keyed.placeId === '' || keyed.givenBack.trim() === '' || taking.isPending) return;
    taking.mutate({ id: ids.id, lineId: line.id, ...keyed, newLotId: keyed.fitted && isLot ? ids.newLotId : null });
  };
  const lacks = (text: string, words: string) => (wasTried && text.trim() === '' ? words : null);
  return (
    <Form label={`Take back ${line.thing.code}`} onSubmit={submit}>
      <FieldPair>
        <QuantityField
          label="How many come back"
          value={keyed.quantity}
          onChange={(quantity) => put({ quantity })}
          unit={line.unitOfMeasure}
        />
        <TextField
          label="Given back"
          value={keyed.givenBack}
          onChange={(givenBack) => put({ givenBack })}
          inputMode="decimal"
          note={`${sale.currency}; 0 is nothing`}
          error={lacks(keyed.givenBack, 'Key what was given back; 0 is nothing.')}
        />
      </FieldPair>
      <TextField
        label="Why it comes back"
        value={keyed.why}
        onChange={(why) => put({ why })}
        error={lacks(keyed.why, 'Say why.')}
        maxLength={200}
      />
      <TextField
        label="How the money went back"
        value={keyed.money}
        onChange={(money) => put({ money })}
        note="in words; it may stay empty"
        maxLength={200}
      />
      <PlaceField
        label="Where it lies from now on"
        onPlace={(placeId) => put({ placeId: placeId ?? '' })}
        isFirst={false}
        error={lacks(keyed.placeId, 'Choose a place from the list, or scan it.')}
      />
      <CheckField isSelected={keyed.fitted} onChange={(fitted) => put({ fitted })}>
        It was fitted meanwhile{isLot && ': it comes back as a lot of its own, and is never new again'}
      </CheckField>
      <FormFoot act="Take it back" failed="Not taken back" sending={taking} onClose={onClose} />
    </Form>
  );
}

/** How many of the line are still with the buyer. */
function leftOf({ quantity, returns }: SaleLine): string {
  const back = sumDecimals(returns.map((each) => decimalFrom(each.quantity)));
  return formatDecimal(subtractDecimals(decimalFrom(quantity), back));
}
