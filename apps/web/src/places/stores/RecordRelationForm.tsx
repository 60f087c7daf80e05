import type { PartPage } from '@corewright/contracts/catalogue';
import type { EvidenceKind, RelationKind } from '@corewright/contracts/relations';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { ComboField } from '../../ui/ComboField.js';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { findParts } from '../jobs/queries.js';
import { useRecordRelation } from './actions.js';
import { EvidenceFields } from './EvidenceFields.js';

type Way = 'same' | 'other-serves' | 'serves-other' | 'became' | 'came-from';
interface Chosen {
  readonly key: number;
  readonly id: string | null;
  readonly text: string;
}

const WAYS: readonly { readonly value: Way; readonly label: string; readonly kind: RelationKind }[] = [
  { value: 'other-serves', label: 'Another part will serve for this one', kind: 'will serve for' },
  { value: 'serves-other', label: 'This one will serve for another part', kind: 'will serve for' },
  { value: 'same', label: 'Another part is the same as this one', kind: 'same as' },
  { value: 'became', label: 'This one became another part, or a kit', kind: 'supersession' },
  { value: 'came-from', label: 'Another part became this one', kind: 'supersession' },
];

/** How this part stands to another, with the evidence; the name of who keys it goes beside it. */
export function RecordRelationForm({ part, onClose }: { readonly part: PartPage; readonly onClose: () => void }) {
  const [way, setWay] = useState<Way>('other-serves');
  const [others, setOthers] = useState<readonly Chosen[]>([{ key: 0, id: null, text: '' }]);
  const [conditions, setConditions] = useState('');
  const [since, setSince] = useState('');
  const [evidence, setEvidence] = useState<{ kind: EvidenceKind; words: string }>({ kind: 'measured', words: '' });
  const [wasTried, setWasTried] = useState(false);
  const change = useRecordRelation(onClose);
  const kind = WAYS.find((each) => each.value === way)?.kind ?? 'same as';
  const named = way === 'became' ? others : others.slice(0, 1);
  const submit = () => {
    setWasTried(true);
    const ids = named.map((other) => other.id).filter((id) => id !== null);
    const [first] = ids;
    if (first === undefined || ids.length < named.length || evidence.words.trim() === '' || change.isPending) return;
    const isTurned = way === 'other-serves' || way === 'came-from';
    change.mutate({
      fromPartId: isTurned ? first : part.id,
      relation: {
        kind,
        toPartIds: isTurned ? [part.id] : ids,
        conditions,
        since: kind === 'supersession' && since.trim() !== '' ? since.trim() : null,
        evidence,
      },
    });
  };
  return (
    <Form label="Record a relation" onSubmit={submit}>
      <SelectField label="How they stand" value={way} choices={WAYS} onChange={setWay} />
      <OtherParts parts={named} onChange={setOthers} mayBeKit={way === 'became'} wasTried={wasTried} />
      {kind === 'supersession' && (
        <TextField
          label="Since"
          value={since}
          onChange={setSince}
          note="1951, 1951-04 or 1951-04-02; empty where nobody knows"
          maxLength={10}
        />
      )}
      <TextField
        label="Conditions"
        value={conditions}
        onChange={setConditions}
        lines={2}
        note="what must be seen to when it is fitted"
        maxLength={4000}
      />
      <EvidenceFields evidence={evidence} onChange={setEvidence} wasTried={wasTried} />
      <FormFoot act="Record it" failed="Not recorded" sending={change} onClose={onClose} />
    </Form>
  );
}

interface OtherPartsProps {
  readonly parts: readonly Chosen[];
  readonly onChange: (parts: readonly Chosen[]) => void;
  readonly mayBeKit: boolean;
  readonly wasTried: boolean;
}

function OtherParts({ parts, onChange, mayBeKit, wasTried }: OtherPartsProps) {
  const put = (changed: Chosen) => onChange(parts.map((part) => (part.key === changed.key ? changed : part)));
  return (
    <>
      {parts.map(({ key, id, text }, index) => (
        <ComboField
          key={key}
          label={index === 0 ? 'The other part' : `And together with it, part ${index + 1} of the kit`}
          text={text}
          onText={(keyed) => put({ key, id: null, text: keyed })}
          onChoose={(option) => put({ key, id: option.id, text: option.label })}
          source={findParts}
          note="a number, however keyed, or a name"
          error={wasTried && id === null ? 'Choose a part from the list.' : null}
          autoFocus={index > 0}
        />
      ))}
      {mayBeKit && (
        <Acts>
          <Button onPress={() => onChange([...parts, { key: parts.length, id: null, text: '' }])}>
            And another: it became a kit
          </Button>
          {parts.length > 1 && <Button onPress={() => onChange(parts.slice(0, -1))}>Take the last one away</Button>}
        </Acts>
      )}
    </>
  );
}
