import { Make, PacketCondition } from '@corewright/contracts/base';
import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { ComboField } from '../../../ui/ComboField.js';
import { FieldPair } from '../../../ui/Form.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { findParts } from '../../jobs/queries.js';
import { usePutLotRight } from './regroup-actions.js';

type Lot = Extract<Thing, { kind: 'lot' }>;

const choicesOf = <Value extends string>(values: readonly Value[]) => values.map((value) => ({ value, label: value }));

/** What was split off was found to be of another maker, another part, in another state: what it is said to be is keyed anew. */
export function PutRightForm({ lot, onClose }: { readonly lot: Lot; readonly onClose: () => void }) {
  const [part, setPart] = useState({
    id: lot.part?.id ?? null,
    text: lot.part === null ? '' : `${lot.part.number} ${lot.part.name}`,
  });
  const [words, setWords] = useState(lot.part === null ? lot.name : '');
  const [make, setMake] = useState(lot.make);
  const [makerName, setMakerName] = useState(lot.maker ?? '');
  const [marks, setMarks] = useState(lot.marks);
  const [condition, setCondition] = useState(lot.condition);
  const [packetRead, setPacketRead] = useState(lot.packet.asRead);
  const [packetCondition, setPacketCondition] = useState(lot.packetCondition);
  const putting = usePutLotRight(lot, onClose);
  return (
    <WhyForm
      label="Put right what it is"
      question="Why it is put right"
      note="what it was said to be stays on the record"
      act="Put it right"
      failed="Not put right"
      sending={putting}
      onWhy={(why) =>
        putting.mutate({ partId: part.id, words, make, makerName, marks, condition, packetRead, packetCondition, why })
      }
      onClose={onClose}
    >
      <ComboField
        label="Part number"
        text={part.text}
        onText={(text) => setPart({ id: null, text })}
        onChoose={(option) => setPart({ id: option.id, text: option.label })}
        source={findParts}
        note="choose it from the list; nothing chosen is a part that nobody has named"
      />
      <TextField
        label="In words"
        value={words}
        onChange={setWords}
        note="what it looks like, where it has no number yet"
        maxLength={200}
      />
      <FieldPair>
        <TextField label="Condition" value={condition} onChange={setCondition} maxLength={200} />
        <TextField label="Marks on it" value={marks} onChange={setMarks} note="? for what cannot be read" maxLength={200} />
      </FieldPair>
      <FieldPair>
        <SelectField label="Make" value={make} choices={choicesOf(Make.options)} onChange={setMake} />
        <TextField label="Maker" value={makerName} onChange={setMakerName} maxLength={200} />
      </FieldPair>
      <FieldPair>
        <TextField label="Date on the packet, as read" value={packetRead} onChange={setPacketRead} maxLength={200} />
        <SelectField
          label="The packet is"
          value={packetCondition}
          choices={choicesOf(PacketCondition.options)}
          onChange={setPacketCondition}
        />
      </FieldPair>
    </WhyForm>
  );
}
