import type { CountPage } from '@corewright/contracts/counting';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { useScanning, useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { Section } from '../../../ui/Section.js';
import { SelectField } from '../../../ui/SelectField.js';
import { sayInstant } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useRecordFinding, useSettleFinding } from './actions.js';
import styles from './Counting.module.css';

/** What was found that bears no label, or the label of something else. */
export function Findings({ count }: { readonly count: CountPage }) {
  const { which, open, close } = useOneForm<'finding'>();
  const mayCount = useWorksWithThings() && count.endedAt === null && count.places.length > 0;
  if (!mayCount && count.findings.length === 0) return null;
  return (
    <Section title="Without a label of its own" aside={count.findings.length === 0 ? 'none' : `${count.findings.length}`}>
      {count.findings.map((finding) => (
        <Finding key={finding.id} finding={finding} isEnded={count.endedAt !== null} />
      ))}
      {mayCount && which === null && <Button onPress={() => open('finding')}>Write something down</Button>}
      {which !== null && <FindingForm count={count} onClose={close} />}
    </Section>
  );
}

function FindingForm({ count, onClose }: { readonly count: CountPage; readonly onClose: () => void }) {
  const { modes } = useScanning();
  const [kind, setKind] = useState<'no label' | 'another label'>('no label');
  const here = count.places.find(({ id }) => id === modes.place?.id) ?? count.places[0];
  const [placeId, setPlaceId] = useState(here?.id ?? '');
  const [keyed, setKeyed] = useState({ words: '', quantity: '', code: '' });
  const record = useRecordFinding(onClose);
  useScanTaker(
    kind === 'another label'
      ? (parsed) => {
          if (parsed.kind === 'P') return false;
          setKeyed((before) => ({ ...before, code: parsed.code }));
          return true;
        }
      : null,
  );
  const quantity = keyed.quantity.trim() === '' ? null : Number(keyed.quantity);
  const isNumber = quantity === null || (Number.isInteger(quantity) && quantity > 0);
  const submit = () => {
    if (record.isPending || !isNumber) return;
    const code = kind === 'another label' ? keyed.code : null;
    record.mutate({
      id: newKey(),
      kind,
      placeId,
      countId: count.id,
      words: keyed.words,
      quantity,
      code,
      occurredAt: new Date().toISOString(),
    });
  };
  return (
    <Form label="Found without a label of its own" onSubmit={submit}>
      <RadioRow
        label="It bears"
        value={kind}
        choices={[
          { value: 'no label', label: 'no label' },
          { value: 'another label', label: 'the label of something else' },
        ]}
        onChange={setKind}
      />
      <SelectField
        label="Where it lies"
        value={placeId}
        choices={count.places.map(({ id, path }) => ({ value: id, label: path }))}
        onChange={setPlaceId}
      />
      {kind === 'another label' && (
        <TextField
          label="The label that is on it"
          value={keyed.code}
          onChange={(code) => setKeyed({ ...keyed, code })}
          note="scan it, or key its code; what the label belongs to is flagged"
        />
      )}
      <FieldPair>
        <TextField
          label="What it is"
          value={keyed.words}
          onChange={(words) => setKeyed({ ...keyed, words })}
          note="as you would tell somebody: “a bag of small springs”"
          isRequired
          maxLength={200}
        />
        <TextField
          label="How many pieces"
          inputMode="numeric"
          value={keyed.quantity}
          onChange={(typed) => setKeyed({ ...keyed, quantity: typed })}
          note="it may stay empty"
          error={isNumber ? null : 'Whole pieces, 1 or more'}
        />
      </FieldPair>
      <FormFoot act="Keep it" failed="Not kept" sending={record} onClose={onClose} />
    </Form>
  );
}

interface FindingProps {
  readonly finding: CountPage['findings'][number];
  readonly isEnded: boolean;
}

function Finding({ finding, isEnded }: FindingProps) {
  const [isLeaving, setLeaving] = useState(false);
  const settle = useSettleFinding(finding.id, () => setLeaving(false));
  const mayDecide = useKeepsBooks() && !isEnded && finding.ended === null;
  const { thing, ended, words, quantity } = finding;
  return (
    <div className={styles.row}>
      <div>
        <b>{words}</b>
        {quantity !== null && `, ${quantity}`}
        <div className="quiet">
          {finding.place}; {finding.by}, {sayInstant(finding.at, new Date())}
        </div>
      </div>
      <div>
        {finding.kind}
        {thing !== null && (
          <>
            : <Go href={`/stores/things/${thing.id}`}>{thing.name}</Go>
          </>
        )}
        {ended !== null && <div className="quiet">{ended.words}</div>}
      </div>
      <div>
        {ended?.thing !== null && ended?.thing !== undefined && (
          <ButtonLink href={`/labels/${ended.thing.code}`}>Label for it</ButtonLink>
        )}
        {mayDecide && !isLeaving && (
          <Acts>
            <Button
              isPending={settle.isPending}
              label={`Book it as unsorted: ${words}`}
              onPress={() => settle.mutate({ how: 'made unsorted' })}
            >
              Book it as unsorted
            </Button>
            <Button look="plain" label={`Leave it: ${words}`} onPress={() => setLeaving(true)}>
              Leave it
            </Button>
          </Acts>
        )}
      </div>
      {(isLeaving || settle.isError) && (
        <div className={styles.form}>
          {isLeaving ? (
            <WhyForm
              label={`Leave it: ${words}`}
              question="Why it is left as it is"
              note="it stays on the record of the count"
              act="Leave it as it is"
              failed="Not kept"
              isPending={settle.isPending}
              error={settle.error}
              onWhy={(why) => settle.mutate({ how: 'left', why })}
              onClose={() => setLeaving(false)}
            />
          ) : (
            <Failure error={settle.error} word="Not booked" />
          )}
        </div>
      )}
    </div>
  );
}
