import type { CountFindingKind, CountPage } from '@corewright/contracts/counting';
import { useState } from 'react';
import { queue } from '../../../api/queue.js';
import { newKey } from '../../../api/uuid.js';
import { useScanning, useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button } from '../../../ui/Button.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { useDraft } from '../../bench/use-draft.js';
import { Photographs } from '../../photographs/Photographs.js';
import { TakePhotographs } from '../../photographs/TakePhotographs.js';
import { type FoundKeyed, findingCommand, piecesOf } from './finding-queue.js';

const KINDS: readonly { value: CountFindingKind; label: string }[] = [
  { value: 'no label', label: 'It bears no label' },
  { value: 'another label', label: 'It bears the label of something else' },
  { value: 'in doubt', label: 'I doubt how many there are' },
];

export interface FindingFormProps {
  readonly count: CountPage;
  readonly onClose: () => void;
}

/** Something without a label of its own, or a figure in doubt: in words, and in photographs. It is kept on this device until the server has it. */
export function FindingForm({ count, onClose }: FindingFormProps) {
  const { modes } = useScanning();
  const here = count.places.find(({ id }) => id === modes.place?.id) ?? count.places[0];
  const afresh = (): FoundKeyed => ({
    id: newKey(),
    kind: 'no label',
    placeId: here?.id ?? '',
    code: '',
    words: '',
    quantity: '',
  });
  const [keyed, setKeyed] = useDraft<FoundKeyed>(`found in ${count.id}`, afresh);
  const [wasTried, setTried] = useState(false);
  const put = (more: Partial<FoundKeyed>) => setKeyed({ ...keyed, ...more });
  const bearsLabel = keyed.kind !== 'no label';
  useScanTaker(
    bearsLabel
      ? (parsed) => {
          if (parsed.kind === 'P') return false;
          put({ code: parsed.code });
          return true;
        }
      : null,
  );
  const isNumber = piecesOf(keyed) !== undefined;
  const lacksCode = bearsLabel && keyed.code.trim() === '';
  const keep = async () => {
    if (!isNumber || lacksCode) return setTried(true);
    await queue.add(findingCommand(keyed, count.id, new Date()));
    setKeyed(afresh());
    onClose();
  };
  return (
    <Form label="Write something down" onSubmit={() => void keep()}>
      <RadioRow label="What is the matter" value={keyed.kind} choices={KINDS} onChange={(kind) => put({ kind })} />
      <TakePhotographs subjectId={keyed.id} taken={0} />
      <Photographs pictures={[]} subject={keyed.words || 'what was found'} subjectIds={[keyed.id]} />
      <SelectField
        label="Where it lies"
        value={keyed.placeId}
        choices={count.places.map(({ id, path }) => ({ value: id, label: path }))}
        onChange={(placeId) => put({ placeId })}
      />
      {bearsLabel && (
        <TextField
          label="The label that is on it"
          value={keyed.code}
          onChange={(code) => put({ code })}
          note={
            keyed.kind === 'in doubt'
              ? 'scan it, or key its code'
              : 'scan it, or key its code; what the label belongs to is flagged'
          }
          error={wasTried && lacksCode ? 'Scan the label, or key its code' : null}
        />
      )}
      <FieldPair>
        <TextField
          label={keyed.kind === 'in doubt' ? 'What makes you doubt' : 'What it is'}
          value={keyed.words}
          onChange={(words) => put({ words })}
          note={
            keyed.kind === 'in doubt' ? '“two bags, and one is torn”' : 'as you would tell somebody: “a bag of small springs”'
          }
          isRequired
          maxLength={200}
        />
        {keyed.kind !== 'in doubt' && (
          <TextField
            label="How many pieces"
            inputMode="numeric"
            value={keyed.quantity}
            onChange={(quantity) => put({ quantity })}
            note="it may stay empty"
            error={isNumber ? null : 'Whole pieces, 1 or more'}
          />
        )}
      </FieldPair>
      <Acts>
        <Button look="main" type="submit">
          Keep it
        </Button>
        <Button
          look="plain"
          onPress={() => {
            // what was photographed for it stays its own when the form comes back
            setKeyed(keyed);
            onClose();
          }}
        >
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}
