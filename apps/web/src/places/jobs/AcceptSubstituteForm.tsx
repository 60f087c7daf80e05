import type { CoveredLine } from '@corewright/contracts/coverage';
import type { EvidenceKind, PartNamed } from '@corewright/contracts/relations';
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
import type { CandidateRow } from '../stores/MayServeTable.js';
import { useJobChange } from './actions.js';
import { findParts } from './queries.js';

export interface AcceptSubstituteFormProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  /** chosen already; null where it is still to be found */
  readonly part: PartNamed | null;
  /** what is on the record of it already; null where it was found elsewhere */
  readonly onRecord: CandidateRow | null;
  readonly onAccepted: () => void;
}

interface Keyed {
  readonly marking: string;
  readonly bore: string;
  readonly outside: string;
  readonly width: string;
  readonly evidence: { readonly kind: EvidenceKind; readonly words: string };
  readonly deviation: string;
  readonly position: string;
  readonly forEveryJob: boolean;
}

/** Longer words than this are not taken. */
const wordsMax = 200;

const nothingKeyed: Keyed = {
  marking: '',
  bore: '',
  outside: '',
  width: '',
  evidence: { kind: 'measured', words: '' },
  deviation: '',
  position: '',
  forEveryJob: true,
};

/** What is on the record already need not be keyed again; it can be keyed over. */
function keyedFrom(onRecord: CandidateRow | null): Keyed {
  const evidence = onRecord?.path.at(-1)?.evidence;
  if (onRecord === null || evidence === undefined) return nothingKeyed;
  return { ...nothingKeyed, evidence, deviation: onRecord.conditions.join('; ').slice(0, wordsMax) };
}

/** Everything that is said when a part is accepted in place of another; it stays on the job's record with the name of who is signed in. */
export function AcceptSubstituteForm({ jobId, line, part, onRecord, onAccepted }: AcceptSubstituteFormProps) {
  const [id] = useState(newKey);
  const [chosen, setChosen] = useState({ id: part?.id ?? null, text: part === null ? '' : `${part.number} ${part.name}` });
  const [keyed, setKeyed] = useState(() => keyedFrom(onRecord));
  const [wasTried, setWasTried] = useState(false);
  const change = useJobChange(jobId, onAccepted);
  const put = (more: Partial<Keyed>) => setKeyed({ ...keyed, ...more });
  const submit = () => {
    setWasTried(true);
    if (chosen.id === null || keyed.evidence.words.trim() === '' || keyed.position.trim() === '' || change.isPending) return;
    change.mutate({ kind: 'accept-substitute', lineId: line.id, substitute: { id, partId: chosen.id, ...keyed } });
  };
  const number = chosen.text.split(' ')[0] ?? '';
  return (
    <Section title={`Accept a part for line ${line.lineNo}`}>
      <Form label={`Accept a part for line ${line.lineNo}`} onSubmit={submit}>
        <ComboField
          label="The part that is to go there"
          text={chosen.text}
          onText={(text) => setChosen({ id: null, text })}
          onChoose={(option) => setChosen({ id: option.id, text: option.label })}
          source={findParts}
          note="a number, however keyed, or a name; or choose one above"
          error={wasTried && chosen.id === null ? 'Choose a part from the list.' : null}
        />
        <TextField
          label="Marking of the old one"
          value={keyed.marking}
          onChange={(marking) => put({ marking })}
          note="as it stands there, with ? for what cannot be read"
          autoFocus={part !== null}
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
          {number !== '' && (
            <ButtonLink href={`/cross-reference/bearing?${new URLSearchParams({ number: line.part.number, with: number })}`}>
              Compare the two as bearings
            </ButtonLink>
          )}
        </Acts>
      </Form>
    </Section>
  );
}

interface MeasuredFieldsProps {
  readonly keyed: Keyed;
  readonly onChange: (more: Partial<Keyed>) => void;
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
