import type { PartPage } from '@corewright/contracts/catalogue';
import { useState } from 'react';
import { versionShownBy } from '../../api/problem.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { TextField } from '../../ui/TextField.js';
import { useAddPartNumber, useEditPart } from './actions.js';
import { isNumberKeyed, NumberFields, noNumberKeyed } from './NumberFields.js';
import { PartFields, partSent } from './PartFields.js';

interface PartFormProps {
  readonly part: PartPage;
  readonly onClose: () => void;
}

/** Puts right what a part is. Its numbers and what it is counted in stay. */
export function EditPartForm({ part, onClose }: PartFormProps) {
  const { name, description, nicknames, material, polymer } = part;
  const [keyed, setKeyed] = useState({ name, description, nicknames, material, polymer });
  // the version that was seen when the form was opened: what somebody else keeps meanwhile is not overwritten unsaid
  const [version, setVersion] = useState(part.version);
  const [wasTried, setWasTried] = useState(false);
  const change = useEditPart(part.id, onClose);
  const submit = () => {
    setWasTried(true);
    if (keyed.name.trim() === '' || change.isPending) return;
    change.mutate({ version, part: partSent(keyed) }, { onError: (error) => setVersion(versionShownBy(error, version)) });
  };
  return (
    <Form label="Change what it is" onSubmit={submit}>
      <PartFields keyed={keyed} onChange={(more) => setKeyed({ ...keyed, ...more })} wasTried={wasTried} />
      <FormFoot act="Keep it" failed="Not changed" sending={change} onClose={onClose} />
    </Form>
  );
}

/** A further number of the part, and the years in which the maker used it. */
export function AddNumberForm({ part, onClose }: PartFormProps) {
  const [numbered, setNumbered] = useState(noNumberKeyed);
  const [years, setYears] = useState({ first: '', last: '' });
  const [wasTried, setWasTried] = useState(false);
  const change = useAddPartNumber(part.id, onClose);
  const [yearFirst, yearLast] = [yearOf(years.first), yearOf(years.last)];
  const submit = () => {
    setWasTried(true);
    if (isNumberKeyed(numbered) && yearFirst !== undefined && yearLast !== undefined && !change.isPending)
      change.mutate({ ...numbered, yearFirst, yearLast });
  };
  return (
    <Form label="A further number" onSubmit={submit}>
      <NumberFields keyed={numbered} onChange={setNumbered} wasTried={wasTried} error={change.error} />
      <FieldPair>
        <YearField label="First year" text={years.first} onChange={(first) => setYears({ ...years, first })} />
        <YearField label="Last year" text={years.last} onChange={(last) => setYears({ ...years, last })} />
      </FieldPair>
      <FormFoot act="Add the number" failed="Not added" sending={change} onClose={onClose} />
    </Form>
  );
}

interface YearFieldProps {
  readonly label: string;
  readonly text: string;
  readonly onChange: (text: string) => void;
}

function YearField({ label, text, onChange }: YearFieldProps) {
  return (
    <TextField
      label={label}
      value={text}
      onChange={onChange}
      inputMode="numeric"
      note="empty where nobody knows"
      error={yearOf(text) === undefined ? 'Key a year, such as 1951.' : null}
      maxLength={4}
    />
  );
}

/** null where nothing was keyed; undefined where it is no year */
function yearOf(text: string): number | null | undefined {
  if (text.trim() === '') return null;
  return /^\d{4}$/.test(text.trim()) ? Number(text) : undefined;
}
