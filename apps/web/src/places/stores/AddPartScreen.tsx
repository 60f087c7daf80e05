import { UnitOfMeasure } from '@corewright/contracts/base';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { useAddPart } from './actions.js';
import { isNumberKeyed, NumberFields, noNumberKeyed } from './NumberFields.js';
import { noPartKeyed, PartFields, partSent } from './PartFields.js';

export interface AddPartScreenProps {
  /** what was looked for and not found */
  readonly number: string;
  readonly onAdded: (partId: string) => void;
}

const UNITS = UnitOfMeasure.options.map((unit) => ({ value: unit, label: unit }));

/** A part that no book here knows yet, under the number that it goes by. */
export function AddPartScreen({ number, onAdded }: AddPartScreenProps) {
  const [id] = useState(newKey);
  const [numbered, setNumbered] = useState({ ...noNumberKeyed, number });
  const [keyed, setKeyed] = useState(noPartKeyed);
  const [unitOfMeasure, setUnitOfMeasure] = useState<UnitOfMeasure>('each');
  const [wasTried, setWasTried] = useState(false);
  const change = useAddPart(() => onAdded(id));
  const submit = () => {
    setWasTried(true);
    if (isNumberKeyed(numbered) && keyed.name.trim() !== '' && !change.isPending)
      change.mutate({ id, ...numbered, ...partSent(keyed), unitOfMeasure });
  };
  return (
    <>
      <PageHead title="A new part" note="Look for it by its number first: it may be here under another maker’s." />
      <Form label="A new part" onSubmit={submit}>
        <NumberFields keyed={numbered} onChange={setNumbered} wasTried={wasTried} error={change.error} />
        <PartFields keyed={keyed} onChange={(more) => setKeyed({ ...keyed, ...more })} wasTried={wasTried} />
        <SelectField
          label="Counted in"
          value={unitOfMeasure}
          choices={UNITS}
          onChange={setUnitOfMeasure}
          note="it stays so: what is in the books is counted in it"
        />
        {change.isError && <Failure error={change.error} word="Not written down" kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            Write it down
          </Button>
        </Acts>
      </Form>
    </>
  );
}
