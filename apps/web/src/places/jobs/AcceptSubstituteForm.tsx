import type { CoveredLine } from '@corewright/contracts/coverage';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { CheckField } from '../../ui/CheckField.js';
import { ComboField } from '../../ui/ComboField.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { TextField } from '../../ui/TextField.js';
import { EvidenceFields } from '../stores/EvidenceFields.js';
import { useJobChange } from './actions.js';
import { findParts } from './queries.js';
import { type SubstituteKeyed, wordsMax } from './substitute-keyed.js';

export interface AcceptSubstituteFormProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  readonly keyed: SubstituteKeyed;
  readonly onKeyed: (keyed: SubstituteKeyed) => void;
  readonly onAccepted: () => void;
  /** where the form was opened among other things */
  readonly onClose?: () => void;
}

/** Everything that is said when a part is accepted in place of another; it stays on the job's record with the name of who is signed in. */
export function AcceptSubstituteForm({ jobId, line, keyed, onKeyed, onAccepted, onClose }: AcceptSubstituteFormProps) {
  const [id] = useState(newKey);
  const [wasTried, setWasTried] = useState(false);
  const change = useJobChange(jobId, onAccepted);
  const put = (more: Partial<SubstituteKeyed>) => onKeyed({ ...keyed, ...more });
  const submit = () => {
    setWasTried(true);
    const { part, offeredId: _offered, ...said } = keyed;
    if (part.id === null || said.evidence.words.trim() === '' || said.position.trim() === '' || change.isPending) return;
    change.mutate({ kind: 'accept-substitute', lineId: line.id, substitute: { id, partId: part.id, ...said } });
  };
  const { part, offeredId } = keyed;
  return (
    <Section title={`Accept a part for line ${line.lineNo}`}>
      <Form label={`Accept a part for line ${line.lineNo}`} onSubmit={submit}>
        <ComboField
          label="The part that is to go there"
          text={part.text}
          onText={(text) => put({ part: { id: null, text, number: '' } })}
          onChoose={({ id: partId, label, number = '' }) => put({ part: { id: partId, text: label, number } })}
          source={findParts}
          note="a number, however keyed, or a name; or choose one above"
          error={wasTried && part.id === null ? 'Choose a part from the list.' : null}
        />
        <TextField
          key={offeredId}
          label="Marking of the old one"
          value={keyed.marking}
          onChange={(marking) => put({ marking })}
          note="as it stands there, with ? for what cannot be read"
          autoFocus={offeredId !== null}
          maxLength={wordsMax}
        />
        <MeasuredFields keyed={keyed} onChange={put} />
        <EvidenceFields evidence={keyed.evidence} onChange={(evidence) => put({ evidence })} wasTried={wasTried} />
        <TextField
          label="In what it differs"
          value={keyed.deviation}
          onChange={(deviation) => put({ deviation })}
          note="and what is done about it; empty where nothing is known to differ"
          maxLength={wordsMax}
        />
        <TextField
          label="Where it goes"
          value={keyed.position}
          onChange={(position) => put({ position })}
          note="such as: rear cover, off side"
          error={wasTried && keyed.position.trim() === '' ? 'Say where it goes.' : null}
          maxLength={wordsMax}
        />
        <CheckField isSelected={keyed.forEveryJob} onChange={(forEveryJob) => put({ forEveryJob })}>
          for every job: put on the record that it will serve for {line.part.number}
        </CheckField>
        <CautionLine>
          This keeps what you say, with your name. Whether it may be fitted is decided by the maker’s manual, local codes and
          qualified people.
        </CautionLine>
        {change.isError && <Failure error={change.error} word="Not accepted" kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            Accept it, in my name
          </Button>
          {onClose !== undefined && (
            <Button look="plain" onPress={onClose}>
              Leave it
            </Button>
          )}
          {part.number !== '' && (
            <ButtonLink href={`/cross-reference/bearing?${new URLSearchParams({ number: line.part.number, with: part.number })}`}>
              Compare the two as bearings
            </ButtonLink>
          )}
        </Acts>
      </Form>
    </Section>
  );
}

interface MeasuredFieldsProps {
  readonly keyed: SubstituteKeyed;
  readonly onChange: (more: Partial<SubstituteKeyed>) => void;
}

/** What was measured of the old one, in millimetres or inches. */
function MeasuredFields({ keyed, onChange }: MeasuredFieldsProps) {
  return (
    <FieldPair>
      <TextField
        label="Bore, as measured"
        value={keyed.bore}
        onChange={(bore) => onChange({ bore })}
        note="25, 1.25 in or 1 1/4"
        maxLength={20}
      />
      <TextField
        label="Outside"
        value={keyed.outside}
        onChange={(outside) => onChange({ outside })}
        note="of the old one"
        maxLength={20}
      />
      <TextField
        label="Width"
        value={keyed.width}
        onChange={(width) => onChange({ width })}
        note="of the old one"
        maxLength={20}
      />
    </FieldPair>
  );
}
