import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { CheckField } from '../../ui/CheckField.js';
import { ComboField } from '../../ui/ComboField.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { QuantityField } from '../../ui/QuantityField.js';
import { SelectField } from '../../ui/SelectField.js';
import { useJobChange } from './actions.js';
import { findParts } from './queries.js';

/** A further line: a part that this job needs and its unit's type does not list. */
export function AddLineForm({ job, onClose }: { readonly job: JobCard; readonly onClose: () => void }) {
  const [id] = useState(newKey);
  const [part, setPart] = useState<{ id: string | null; text: string }>({ id: null, text: '' });
  const [quantity, setQuantity] = useState('1');
  const [operationId, setOperationId] = useState(job.operations[0]?.id ?? '');
  const [critical, setCritical] = useState(false);
  const [wasTried, setWasTried] = useState(false);
  const change = useJobChange(job.id, onClose);
  const submit = () => {
    setWasTried(true);
    if (part.id !== null && quantity.trim() !== '' && !change.isPending)
      change.mutate({ kind: 'line', id, partId: part.id, quantity, operationId, critical });
  };
  return (
    <Form label="A further line" onSubmit={submit}>
      <ComboField
        label="Part"
        text={part.text}
        onText={(text) => setPart({ id: null, text })}
        onChoose={(option) => setPart({ id: option.id, text: option.label })}
        source={findParts}
        note="a number, however keyed, or a name"
        error={wasTried && part.id === null ? 'Choose a part from the list.' : null}
        autoFocus
      />
      <FieldPair>
        <QuantityField
          label="How many"
          value={quantity}
          onChange={setQuantity}
          unit="in the part’s unit"
          error={wasTried && quantity.trim() === '' ? 'Key how many.' : null}
        />
        <SelectField
          label="Needed at"
          value={operationId}
          choices={job.operations.map((operation) => ({ value: operation.id, label: `${operation.number} ${operation.name}` }))}
          onChange={setOperationId}
        />
      </FieldPair>
      <CheckField isSelected={critical} onChange={setCritical}>
        critical: without it the job stops
      </CheckField>
      <FormFoot act="Add the line" failed="Not added" sending={change} onClose={onClose} />
    </Form>
  );
}
