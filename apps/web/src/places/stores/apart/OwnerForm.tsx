import type { ChangeOwner } from '@corewright/contracts/goods-apart';
import { useState } from 'react';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { dayOf } from '../../../ui/say-when.js';
import { useOwnerChange } from './apart-actions.js';
import { ActRow, DayField, NeededField, OwnerField, PaidField } from './Fields.js';
import type { ThingInHand } from './HoldForms.js';

type How = ChangeOwner['how'];

export interface OwnerFormProps {
  readonly thing: ThingInHand;
  /** null: ours */
  readonly owner: string | null;
  readonly onClose: () => void;
}

/** Whose it becomes, by which act. An owner is never simply keyed over. */
export function OwnerForm({ thing, owner, onClose }: OwnerFormProps) {
  const change = useOwnerChange(thing, onClose);
  const [how, setHow] = useState<How | null>(null);
  const [ownerName, setOwnerName] = useState('');
  const [price, setPrice] = useState('');
  const [on, setOn] = useState(dayOf(new Date()));
  const [words, setWords] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const toThem = how === 'given to them' || how === 'theirs after all';
  const submit = () => {
    setWasTried(true);
    if (how === null || words.trim() === '' || on === '' || (toThem && ownerName.trim() === '') || change.isPending) return;
    change.mutate({ how, ownerName: toThem ? ownerName : '', price: how === 'bought' ? price : '', on, words });
  };
  const choices: { value: How; label: string }[] = [
    ...(owner === null
      ? []
      : [
          { value: 'bought' as const, label: 'We bought it' },
          { value: 'given to us' as const, label: 'It was given to us' },
        ]),
    { value: 'given to them', label: 'It was given to somebody' },
    { value: 'theirs after all', label: 'It is another’s after all' },
  ];
  return (
    <Form label={`Whose ${thing.code} is`} onSubmit={submit}>
      <p>It is {owner === null ? 'ours' : `${owner}’s`} by the books. What it becomes stays on the record with your name.</p>
      <ActRow
        label="What happened"
        value={how}
        choices={choices}
        onChange={setHow}
        missing="Say what happened."
        wasTried={wasTried}
      />
      {toThem && <OwnerField value={ownerName} onChange={setOwnerName} note="a customer of the books" wasTried={wasTried} />}
      <FieldPair>
        {how === 'bought' && <PaidField value={price} onChange={setPrice} note="it is what it costs us; empty: not known" />}
        <DayField label="On" value={on} onChange={setOn} wasTried={wasTried} />
      </FieldPair>
      <NeededField
        label="In words"
        value={words}
        onChange={setWords}
        note="who agreed, what was signed or said"
        missing="Say what was agreed."
        wasTried={wasTried}
      />
      <FormFoot act="Put it on the record" failed="Not changed" sending={change} onClose={onClose} />
    </Form>
  );
}
