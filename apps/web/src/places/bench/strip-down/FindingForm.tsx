import type { StripComponent, StripDown, StripFinding, StripFindingDone, StripKind } from '@corewright/contracts/cores';
import type { DifferentNumbers } from '@corewright/contracts/kept-sets';
import { useQuery } from '@tanstack/react-query';
import { asProblem } from '../../../api/problem.js';
import { Acts, Button } from '../../../ui/Button.js';
import { CautionLine } from '../../../ui/CautionLine.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { TextField } from '../../../ui/TextField.js';
import { gradesQuery } from '../../goods-in/queries.js';
import { Photographs } from '../../photographs/Photographs.js';
import { TakePhotographs } from '../../photographs/TakePhotographs.js';
import { useDraft } from '../use-draft.js';
import { useRecordFinding } from './actions.js';
import { FateKeys } from './FateKeys.js';
import { FindingWords } from './FindingWords.js';
import { asksForPlace, type FindingKeyed, findingOf, keyedAtFirst } from './finding-keyed.js';
import { NumbersDiffer } from './NumbersDiffer.js';
import { PlaceKept } from './PlaceKept.js';
import { outworkersQuery } from './queries.js';
import styles from './StripDown.module.css';

export interface FindingFormProps {
  readonly strip: StripDown;
  /** null for something that nobody expected */
  readonly component: StripComponent | null;
  /** the finding that is put right */
  readonly putRight: StripFinding | null;
  readonly placeId: string | null;
  readonly onPlace: (placeId: string | null) => void;
  readonly onDone: (done: StripFindingDone) => void;
  readonly onClose: () => void;
}

const KINDS: readonly { value: StripKind; label: string }[] = [
  { value: 'as expected', label: 'It is there' },
  { value: 'missing', label: 'It is missing' },
  { value: 'wrong', label: 'Something else is there' },
];

/** What was seen of one component and what becomes of it: a press or two, and more only where more is needed. */
export function FindingForm(props: FindingFormProps) {
  const { strip, component, putRight, placeId } = props;
  const about = `${strip.id} ${component?.position ?? 'extra'} ${putRight?.id ?? component?.undecided ?? ''}`;
  const [keyed, setKeyed] = useDraft<FindingKeyed>(about, () => keyedAtFirst(component, putRight));
  const record = useRecordFinding(strip.id);
  const put = (more: Partial<FindingKeyed>) => setKeyed({ ...keyed, ...more });
  const hasJob = strip.job !== null;
  const send = (different?: DifferentNumbers) => {
    if (record.isPending) return;
    const position = component?.position ?? null;
    const finding = findingOf(keyed, { position, placeId, supersedesId: putRight?.id ?? null, hasJob });
    record.mutate(
      { ...finding, ...(different && { different }) },
      {
        onSuccess: (done) => {
          setKeyed(keyedAtFirst(component, null));
          props.onDone(done);
        },
      },
    );
  };
  const problem = record.error === null ? null : asProblem(record.error);
  const isMissing = keyed.kind === 'missing';
  return (
    <div className={styles.form}>
      <Form label={component === null ? 'Something extra' : `${component.position}, ${component.name}`} onSubmit={() => send()}>
        {component === null ? (
          <TextField label="What it is" value={keyed.name} onChange={(name) => put({ name })} autoFocus maxLength={200} />
        ) : (
          <RadioRow label="What lay there" value={keyed.kind} choices={KINDS} onChange={(kind) => put({ kind })} />
        )}
        <FindingWords chosen={keyed.finding} onChoose={(finding) => put({ finding })} />
        {!isMissing && (
          <FateKeys
            chosen={keyed.disposition}
            usual={component?.usualFate ?? null}
            onChoose={(disposition) => put({ disposition })}
          />
        )}
        <MoreOfIt {...props} keyed={keyed} put={put} />
        <TakePhotographs subjectId={keyed.id} taken={0} />
        <Photographs pictures={[]} subject={component?.name ?? 'something extra'} subjectIds={[keyed.id]} />
        {!isMissing && asksForPlace(keyed, hasJob, strip.owner !== null) && (
          <PlaceKept placeId={placeId} onPlace={props.onPlace} />
        )}
        {problem?.code === 'set-numbers-differ' ? (
          <NumbersDiffer problem={problem} isPending={record.isPending} onSay={send} />
        ) : (
          problem !== null && <Failure error={problem} word="Not recorded" kept="What you keyed is kept." />
        )}
        <Acts>
          <Button look="main" type="submit" isPending={record.isPending} isDisabled={!isMissing && keyed.disposition === null}>
            {!isMissing && keyed.disposition === null ? 'Say what becomes of it' : 'Record it'}
          </Button>
          <Button look="plain" onPress={props.onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

interface MoreProps extends FindingFormProps {
  readonly keyed: FindingKeyed;
  readonly put: (more: Partial<FindingKeyed>) => void;
}

/** Only what this component, this fate or this owner asks for. */
function MoreOfIt({ strip, component, putRight, keyed, put }: MoreProps) {
  const { disposition } = keyed;
  const isSeveral = component === null || component.quantity !== '1' || putRight !== null;
  const goes = disposition === 'scrap' || disposition === 'replace';
  return (
    <>
      <FieldPair>
        {isSeveral && (
          <QuantityField
            label="How many"
            value={keyed.quantity}
            onChange={(quantity) => put({ quantity })}
            unit={ofWords(component)}
          />
        )}
        {component?.keepsThickness && (
          <QuantityField
            label="Thickness"
            value={keyed.thickness}
            onChange={(thickness) => put({ thickness })}
            unit="mm, by the micrometer; one thickness at a time"
          />
        )}
        {(component?.keptSet ?? '') !== '' && (
          <TextField
            label="Set number stamped on it"
            value={keyed.stamped}
            onChange={(stamped) => put({ stamped })}
            note={`belongs to the ${component?.keptSet}; ? for what cannot be read`}
            maxLength={40}
          />
        )}
        {disposition === 'send out' && <SentTo keyed={keyed} put={put} />}
        {disposition === 'to stores' && <GradeOfIt keyed={keyed} put={put} />}
      </FieldPair>
      {goes && strip.owner !== null && (
        <TextField
          label={`On whose word, of ${strip.owner.name}`}
          value={keyed.ownersWord}
          onChange={(ownersWord) => put({ ownersWord })}
          note="a customer’s goods are scrapped on the owner’s word; without it they are kept for them"
          maxLength={200}
        />
      )}
      <TextField
        label="In your own words"
        value={keyed.words}
        onChange={(words) => put({ words })}
        note="if there is more to say"
        maxLength={2000}
      />
      {keyed.disposition === 're-use after rework' && (
        <CautionLine>What may be reworked, and how, is for the maker’s manual and for qualified people.</CautionLine>
      )}
    </>
  );
}

function ofWords(component: StripComponent | null): string {
  return component === null ? 'each' : `of ${component.quantity}`;
}

function SentTo({ keyed, put }: Pick<MoreProps, 'keyed' | 'put'>) {
  const firms = useQuery(outworkersQuery).data ?? [];
  const choices = firms.map((firm) => ({ value: firm.id, label: firm.name }));
  return (
    <SelectField
      label="To whom it goes"
      value={keyed.firmId}
      choices={[{ value: '', label: firms.length === 0 ? 'no such firm is known yet' : 'choose a firm' }, ...choices]}
      onChange={(firmId) => put({ firmId })}
    />
  );
}

function GradeOfIt({ keyed, put }: Pick<MoreProps, 'keyed' | 'put'>) {
  const grades = (useQuery(gradesQuery).data?.grades ?? []).filter((grade) => grade.scale === 'part' && !grade.retired);
  const choices = grades.map(({ letter, meaning }) => ({ value: letter, label: `${letter}, ${meaning}` }));
  return (
    <SelectField
      label="Grade"
      value={keyed.condition}
      choices={[{ value: '', label: 'not graded' }, ...choices]}
      onChange={(condition) => put({ condition })}
    />
  );
}
