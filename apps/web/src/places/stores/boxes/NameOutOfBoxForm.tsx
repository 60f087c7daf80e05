import { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { BoxPage, NamedOutOfBox } from '@corewright/contracts/boxes';
import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { Code } from '../../../ui/Code.js';
import { ComboField } from '../../../ui/ComboField.js';
import { Fold } from '../../../ui/Fold.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { PlaceKept } from '../../bench/strip-down/PlaceKept.js';
import { findParts, findUnitTypes } from '../../goods-in/queries.js';
import type { RowValues } from '../../goods-in/row-values.js';
import { afterNaming, type NamingKeyed, namingOf } from './naming-keyed.js';
import { useNaming } from './queries.js';

export interface NameOutOfBoxFormProps {
  readonly box: BoxPage;
  readonly keyed: NamingKeyed;
  readonly onKey: (keyed: NamingKeyed) => void;
  readonly onNamed: (named: NamedOutOfBox) => void;
  readonly onClose: () => void;
}

const KINDS = [
  { value: 'lot', label: 'parts of one kind' },
  { value: 'unit', label: 'a unit' },
] as const;
const choicesOf = <Value extends string>(options: readonly Value[]) => options.map((value) => ({ value, label: value }));

/** Something out of the box gets a name: what it is, how many, and where it goes. It is a unit or a lot of its own then. */
export function NameOutOfBoxForm({ box, keyed, onKey, onNamed, onClose }: NameOutOfBoxFormProps) {
  // one id until it is named: pressed again after a lost answer, it is not named twice
  const [id, setId] = useState(newKey);
  const naming = useNaming(box.id, (named) => {
    setId(newKey());
    onKey(afterNaming(keyed));
    onNamed(named);
  });
  const { values } = keyed;
  const put = (more: Partial<NamingKeyed['values']>) => onKey({ ...keyed, values: { ...values, ...more } });
  const submit = () => {
    if (!naming.isPending) naming.mutate(namingOf(keyed, id));
  };
  const isLot = values.kind === 'lot';
  return (
    <Form label="Name something out of it" onSubmit={submit}>
      {values.code !== '' && (
        <p>
          It bears the label <Code code={values.code} size="row" />
        </p>
      )}
      <RadioRow
        label="It is"
        value={values.kind}
        choices={values.code === '' ? KINDS : KINDS.filter(({ value }) => value === values.kind)}
        onChange={(kind) => put({ kind, referenceId: null, referenceText: '', count: kind === 'lot' ? '1' : '' })}
      />
      <FieldPair>
        <ComboField
          key={values.kind}
          label={isLot ? 'Part number' : 'Unit type'}
          text={values.referenceText}
          onText={(referenceText) => put({ referenceId: null, referenceText })}
          onChoose={(option) =>
            put({ referenceId: option.id === '' ? null : option.id, referenceText: option.id === '' ? '' : option.label })
          }
          source={isLot ? findParts : findUnitTypes}
          note={isLot ? 'a number, however keyed, or a name' : 'leave it empty where nobody knows yet'}
          autoFocus
        />
        {isLot && <QuantityField label="How many" value={values.count} onChange={(count) => put({ count })} unit={leftOf(box)} />}
      </FieldPair>
      <TextField
        label="In words"
        value={values.words}
        onChange={(words) => put({ words })}
        note="what it looks like, where it has no number yet"
        maxLength={200}
      />
      <FieldPair>
        <TextField
          label={isLot ? 'Condition' : 'Grade'}
          value={values.grade}
          onChange={(grade) => put({ grade })}
          maxLength={isLot ? 200 : 10}
        />
        <TextField
          label="Marks on it"
          value={values.marks}
          onChange={(marks) => put({ marks })}
          note="? for what cannot be read"
          maxLength={200}
        />
      </FieldPair>
      {isLot && <HowCameBy values={values} put={put} />}
      <PlaceKept placeId={values.placeId} onPlace={(placeId) => put({ placeId })} unplaced="where the box lies" />
      <TextField
        label="What the rest is called now"
        value={keyed.wordsLeft}
        onChange={(wordsLeft) => onKey({ ...keyed, wordsLeft })}
        note={`empty: “${box.words}” as before`}
        maxLength={200}
      />
      <FormFoot act="Take it out and name it" failed="Not named" sending={naming} onClose={onClose} />
    </Form>
  );
}

function leftOf({ piecesLeft }: BoxPage): string {
  return piecesLeft === null ? 'nobody counted the box' : `of ${piecesLeft} left`;
}

interface SourceProps {
  readonly values: RowValues;
  readonly put: (more: Partial<Omit<RowValues, 'kind'>>) => void;
}

/** How the workshop came by it, and what stands on its packet where it has one. */
function HowCameBy({ values, put }: SourceProps) {
  return (
    <>
      <FieldPair>
        <SelectField
          label="Source"
          value={values.source}
          choices={choicesOf(Source.options)}
          onChange={(source) => put({ source })}
        />
        <SelectField label="Make" value={values.make} choices={choicesOf(Make.options)} onChange={(make) => put({ make })} />
      </FieldPair>
      <Fold summary="It has a packet">
        <FieldPair>
          <TextField
            label="Date on the packet, as read"
            value={values.packetDate}
            onChange={(packetDate) => put({ packetDate })}
            maxLength={200}
          />
          <SelectField
            label="The packet is"
            value={values.packetCondition}
            choices={choicesOf(PacketCondition.options)}
            onChange={(packetCondition) => put({ packetCondition })}
          />
          <TextField
            label="Maker on the packet"
            value={values.makerName}
            onChange={(makerName) => put({ makerName })}
            maxLength={200}
          />
        </FieldPair>
      </Fold>
    </>
  );
}
