import { Make, PacketCondition, Source } from '@corewright/contracts/base';
import type { DeskRow } from '@corewright/contracts/opening-stock';
import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { ComboField } from '../../../ui/ComboField.js';
import { Fold } from '../../../ui/Fold.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { findParts, findUnitTypes } from '../../goods-in/queries.js';
import { AlikeLine } from '../AlikeLine.js';
import { nameRow } from './desk-actions.js';
import { type Habits, type NamingKeyed, namingOf, namingSaid, whatIsWanting } from './naming-keyed.js';

export interface NamingFormProps {
  readonly row: DeskRow;
  readonly habits: Habits;
  readonly onNamed: (row: DeskRow, keyed: NamingKeyed) => void;
  readonly onClose: () => void;
}

const choicesOf = <Value extends string>(options: readonly Value[]) => options.map((value) => ({ value, label: value }));
const COSTS = [
  { value: 'none', label: 'say nothing now' },
  { value: 'figure', label: 'a figure' },
  { value: 'estimate', label: 'an estimate' },
  { value: 'unknown', label: 'nobody knows' },
] as const;

/** What it is, how the workshop came by it, and what all of it cost. Enter says it, and the next is there. */
export function NamingForm({ row, habits, onNamed, onClose }: NamingFormProps) {
  const [keyed, setKeyed] = useState(() => namingOf(row, habits));
  const [wasTried, setWasTried] = useState(false);
  const put = (more: Partial<NamingKeyed>) => setKeyed((before) => ({ ...before, ...more }));
  const naming = useMutation({
    mutationFn: () => nameRow(row, namingSaid(row.kind, keyed)),
    onSuccess: (named) => onNamed(named, keyed),
  });
  const wanting = whatIsWanting(row.kind, keyed);
  const submit = () => {
    setWasTried(true);
    if (wanting === null && !naming.isPending) naming.mutate();
  };
  return (
    <Form label="Name it" onSubmit={submit}>
      {row.kind !== 'unsorted' && (
        <ComboField
          key={row.id}
          label={row.kind === 'lot' ? 'Part number' : 'Unit type'}
          text={keyed.text}
          onText={(text) => put({ text, referenceId: null })}
          onChoose={({ id, label, name }) =>
            put({
              referenceId: id === '' ? null : id,
              text: id === '' ? '' : label,
              ...(name === undefined ? {} : { words: name }),
            })
          }
          source={row.kind === 'lot' ? findParts : findUnitTypes}
          note="a number, however keyed, a name or a nickname"
          autoFocus
        />
      )}
      {row.kind !== 'unsorted' && keyed.referenceId !== null && (
        <AlikeLine
          sought={{ of: row.kind === 'lot' ? 'parts' : 'unit-types', id: keyed.referenceId, besides: row.id }}
          className="quiet"
        />
      )}
      <TextField
        label="In words"
        value={keyed.words}
        onChange={(words) => put({ words })}
        autoFocus={row.kind === 'unsorted'}
        maxLength={200}
      />
      {row.kind === 'lot' && <LotFields keyed={keyed} put={put} />}
      {row.kind === 'unit' && (
        <FieldPair>
          <TextField label="Grade" value={keyed.grade} onChange={(grade) => put({ grade })} maxLength={10} />
          <TextField label="Marks on it" value={keyed.marks} onChange={(marks) => put({ marks })} maxLength={200} />
        </FieldPair>
      )}
      {row.kind === 'unsorted' && (
        <TextField
          label="How many are in it"
          value={keyed.pieceCount}
          onChange={(pieceCount) => put({ pieceCount: pieceCount.replace(/\D/g, '') })}
          inputMode="numeric"
          note="empty where nobody counted"
        />
      )}
      {row.owner === null && (
        <FieldPair>
          <SelectField
            label="What all of it cost"
            value={keyed.costStanding}
            choices={COSTS}
            onChange={(costStanding) => put({ costStanding })}
            note="unknown is not nought"
          />
          {(keyed.costStanding === 'figure' || keyed.costStanding === 'estimate') && (
            <TextField
              label={`Amount, ${row.currency}`}
              value={keyed.cost}
              onChange={(cost) => put({ cost })}
              inputMode="decimal"
              note="of all of it, not of each"
            />
          )}
        </FieldPair>
      )}
      {wasTried && wanting !== null && <p role="alert">{wanting}</p>}
      <FormFoot act="Name it, and the next" failed="Not named" sending={naming} onClose={onClose} />
    </Form>
  );
}

interface LotFieldsProps {
  readonly keyed: NamingKeyed;
  readonly put: (more: Partial<NamingKeyed>) => void;
}

function LotFields({ keyed, put }: LotFieldsProps) {
  return (
    <>
      <FieldPair>
        <SelectField
          label="Source"
          value={keyed.source}
          choices={choicesOf(Source.options)}
          onChange={(source) => put({ source })}
        />
        <SelectField label="Make" value={keyed.make} choices={choicesOf(Make.options)} onChange={(make) => put({ make })} />
      </FieldPair>
      <FieldPair>
        <TextField label="Condition" value={keyed.condition} onChange={(condition) => put({ condition })} maxLength={200} />
        <TextField label="Marks on it" value={keyed.marks} onChange={(marks) => put({ marks })} maxLength={200} />
      </FieldPair>
      <Fold summary="It has a packet" isOpenAtFirst={keyed.packetRead !== ''}>
        <FieldPair>
          <TextField
            label="Date on the packet, as read"
            value={keyed.packetRead}
            onChange={(packetRead) => put({ packetRead })}
            maxLength={200}
          />
          <SelectField
            label="The packet is"
            value={keyed.packetCondition}
            choices={choicesOf(PacketCondition.options)}
            onChange={(packetCondition) => put({ packetCondition })}
          />
          <TextField
            label="Maker on the packet"
            value={keyed.makerName}
            onChange={(makerName) => put({ makerName })}
            maxLength={200}
          />
        </FieldPair>
      </Fold>
    </>
  );
}
