import type { CountLine } from '@corewright/contracts/counting';
import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { useDecideLines } from './actions.js';
import { decisionOn } from './proposal.js';

type Offered = CountLine['offered'][number];

export interface DecideFormProps {
  readonly countId: string;
  readonly line: CountLine;
  readonly decision: Offered;
  readonly onClose: () => void;
}

/** Whether a decision needs more than a press: whose number, the number typed, which place, or why. */
export function needsForm(line: CountLine, decision: Offered): boolean {
  if (decision === 'leave' || decision === 'again') return true;
  if (decision === 'move') return line.elsewhere.length > 1;
  return decision === 'post' && (line.typed || line.counts.length > 1);
}

const acts: Readonly<Record<Offered, string>> = {
  post: 'Post it',
  move: 'Move it here',
  missing: 'Mark it as not found',
  again: 'Ask for a second look',
  leave: 'Leave it as it is',
};

/** What a decision needs to be said with it. */
export function DecideForm({ countId, line, decision, onClose }: DecideFormProps) {
  const [index, setIndex] = useState('0');
  const [fromPlaceId, setFrom] = useState(line.elsewhere[0]?.placeId ?? '');
  const [keyed, setKeyed] = useState({ typed: '', why: '' });
  const [wasTried, setWasTried] = useState(false);
  const decide = useDecideLines(countId, onClose);
  const chosen = Number(index);
  const submit = () => {
    setWasTried(true);
    if (decide.isPending || (decision === 'leave' && keyed.why.trim() === '')) return;
    decide.mutate([{ ...decisionOn(line, decision, chosen), ...keyed, ...(decision === 'move' ? { fromPlaceId } : {}) }]);
  };
  return (
    <Form label={`${acts[decision]}: ${line.thing.code}`} onSubmit={submit}>
      {decision === 'post' && line.counts.length > 1 && (
        <RadioRow
          label="Counted were"
          value={index}
          choices={line.counts.map(({ words }, each) => ({ value: String(each), label: words }))}
          onChange={setIndex}
        />
      )}
      {decision === 'post' && line.typed && (
        <TextField
          label="Type the number that was counted"
          inputMode="decimal"
          value={keyed.typed}
          onChange={(typed) => setKeyed({ ...keyed, typed })}
          note={`${line.counts[chosen]?.quantity ?? ''} against ${line.counts[chosen]?.books ?? ''} by the books is hard to believe`}
          autoFocus
        />
      )}
      {decision === 'move' && (
        <SelectField
          label="It came from"
          value={fromPlaceId}
          choices={line.elsewhere.map(({ placeId, words, quantity }) => ({ value: placeId, label: `${words}, ${quantity}` }))}
          onChange={setFrom}
        />
      )}
      <TextField
        label={decision === 'leave' ? 'Why it is left as it is' : 'A note'}
        value={keyed.why}
        onChange={(why) => setKeyed({ ...keyed, why })}
        note={
          decision === 'again'
            ? 'for whoever looks; another person than before is asked'
            : 'it stays on the record with your name'
        }
        error={wasTried && decision === 'leave' && keyed.why.trim() === '' ? 'Say why.' : null}
        maxLength={200}
      />
      {decide.isError && <Failure error={decide.error} word="Not done" kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={decide.isPending}>
          {acts[decision]}
        </Button>
        <Button look="plain" onPress={onClose}>
          Not now
        </Button>
      </Acts>
    </Form>
  );
}
