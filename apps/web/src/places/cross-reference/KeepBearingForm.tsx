import { bearingTypes } from '@corewright/bearings/bearing-types';
import type { KeepDimensions, OwnDimensions } from '@corewright/contracts/bearings';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { sayMm } from './BearingParts.js';
import { useTableChange } from './table-actions.js';

const types: readonly Choice<string>[] = bearingTypes.map((type) => ({ value: type, label: type }));

/** The row as it is keyed; of a new one nothing but the usual type. */
function keyedOf(row: OwnDimensions | null): KeepDimensions {
  if (row === null)
    return { designation: '', type: 'deep groove ball', bore: '', outside: '', width: '', chamfer: '', source: '' };
  const { designation, type, source, chamferMinMm } = row;
  const [bore, outside, width] = [row.boreMm, row.outsideMm, row.widthMm].map(sayMm) as [string, string, string];
  return { designation, type, bore, outside, width, chamfer: chamferMinMm === null ? '' : sayMm(chamferMinMm), source };
}

export interface KeepBearingFormProps {
  /** The row that is changed; null for a new one. */
  readonly row: OwnDimensions | null;
  readonly onClose: () => void;
}

/** A bearing of the workshop's own: its number, its boundary dimensions, and where they come from. */
export function KeepBearingForm({ row, onClose }: KeepBearingFormProps) {
  const [keyed, setKeyed] = useState(() => keyedOf(row));
  const [wasTried, setWasTried] = useState(false);
  const change = useTableChange<KeepDimensions>('dimensions', onClose);
  const set = (name: keyof KeepDimensions) => (text: string) => setKeyed((before) => ({ ...before, [name]: text }));
  const lacks = (name: keyof KeepDimensions, ask: string) => (wasTried && keyed[name].trim() === '' ? ask : null);
  const submit = () => {
    setWasTried(true);
    const isWhole = Object.entries(keyed).every(([name, text]) => name === 'chamfer' || text.trim() !== '');
    if (isWhole && !change.isPending) change.mutate(keyed);
  };
  return (
    <Form label="A bearing of our own" onSubmit={submit}>
      <FieldPair>
        <TextField
          label="Number"
          value={keyed.designation}
          onChange={set('designation')}
          isDisabled={row !== null}
          error={lacks('designation', 'Key the number that stands on it.')}
          maxLength={60}
          autoFocus={row === null}
        />
        <SelectField label="What it is" value={keyed.type} choices={types} onChange={set('type')} />
        <TextField
          label="Bore, d"
          value={keyed.bore}
          onChange={set('bore')}
          note="31.75, 1.25 in or 1 1/4"
          error={lacks('bore', 'Key the bore.')}
          maxLength={20}
        />
        <TextField
          label="Outside, D"
          value={keyed.outside}
          onChange={set('outside')}
          error={lacks('outside', 'Key the outside diameter.')}
          maxLength={20}
        />
        <TextField
          label="Width, B or T"
          value={keyed.width}
          onChange={set('width')}
          error={lacks('width', 'Key the width.')}
          maxLength={20}
        />
        <TextField label="Least chamfer" value={keyed.chamfer} onChange={set('chamfer')} note="may stay empty" maxLength={20} />
      </FieldPair>
      <TextField
        label="Source"
        value={keyed.source}
        onChange={set('source')}
        note="measured by whom and with what, or which list on which page"
        error={lacks('source', 'Say where the figures come from.')}
        maxLength={200}
      />
      {change.isError && <Failure error={change.error} word="Not kept" kept="What you keyed is kept." />}
      <KeepActs isPending={change.isPending} onClose={onClose} />
    </Form>
  );
}

export function KeepActs({ isPending, onClose }: { readonly isPending: boolean; readonly onClose: () => void }) {
  return (
    <Acts>
      <Button look="main" type="submit" isPending={isPending}>
        Keep it
      </Button>
      <Button look="plain" onPress={onClose}>
        Leave it
      </Button>
    </Acts>
  );
}
