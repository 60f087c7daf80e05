import type { ReplaceLabel } from '@corewright/contracts/label-changes';
import type { ScanAnswer } from '@corewright/contracts/scanning';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { useWorksWithThings } from '../../api/session.js';
import { useScanTaker } from '../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Waiting } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { PageHead, Section } from '../../ui/Section.js';
import { TextField } from '../../ui/TextField.js';
import { borneByQuery, useReplaceLabel } from './label-change-actions.js';
import { NewLabel } from './NewLabel.js';

export interface ReplaceLabelScreenProps {
  /** the label that is lost or spoiled */
  readonly code: string;
  /** a blank label that was scanned before; empty: none yet */
  readonly blank: string;
}

/** A label is lost or spoiled: another takes its place, and the old one is void. */
export function ReplaceLabelScreen({ code, blank }: ReplaceLabelScreenProps) {
  const on = useQuery(borneByQuery(code));
  const [wasDone, setDone] = useState(false);
  if (on.isPending) return <Waiting>Fetching what it is on …</Waiting>;
  // once it is replaced it opens nothing any more, and the outcome stands
  if (on.data === undefined || (on.isError && !wasDone)) {
    const now = asProblem(on.error).values.nowCode;
    return (
      <Failure
        error={on.error}
        word="Not replaced"
        choices={
          typeof now === 'string' && (
            <ButtonLink href={`/labels/${now}/replace`}>
              Replace <Code code={now} size="row" /> instead
            </ButtonLink>
          )
        }
      />
    );
  }
  return <Replacing code={code} on={on.data} blank={blank} onDone={() => setDone(true)} />;
}

interface ReplacingProps extends ReplaceLabelScreenProps {
  readonly on: ScanAnswer;
  readonly onDone: () => void;
}

const WAS = [
  { value: 'lost', label: 'lost' },
  { value: 'spoiled', label: 'spoiled, or not to be read' },
] as const;

function Replacing({ code, on, blank: scannedBefore, onDone }: ReplacingProps) {
  const [was, setWas] = useState<ReplaceLabel['was']>('lost');
  const [blank, setBlank] = useState(scannedBefore);
  const [note, setNote] = useState('');
  const mayReplace = useWorksWithThings();
  const replacing = useReplaceLabel(code);
  const send = (by: string | null) => {
    if (!replacing.isPending) replacing.mutate({ was, code: by, note }, { onSuccess: onDone });
  };
  useScanTaker((parsed) => {
    if (replacing.isSuccess || parsed.kind === 'J' || parsed.kind === 'B') return false;
    setBlank(parsed.code);
    return true;
  });
  return (
    <>
      <PageHead
        title={
          <>
            Another label for <Code code={code} />
          </>
        }
        note={[on.name, on.detail, on.where].filter((words) => words !== '').join(', ')}
      />
      <Section title="What takes its place" aside="the old code is void after that, for good">
        {replacing.isSuccess ? (
          <NewLabel changed={replacing.data} isPrintedBefore={replacing.variables.code !== null} />
        ) : mayReplace ? (
          <Form label="Another label" onSubmit={() => send(blank.trim() === '' ? null : blank)}>
            <RadioRow label="The label is" value={was} choices={WAS} onChange={setWas} />
            <TextField
              label="Scan or key the blank label"
              value={blank}
              onChange={setBlank}
              note={blankNote(on.kind)}
              maxLength={64}
            />
            <TextField label="What else to know" value={note} onChange={setNote} note="it may stay empty" maxLength={200} />
            {replacing.isError && <Failure error={replacing.error} word="Not replaced" kept="What you keyed is kept." />}
            <Acts>
              <Button look="main" type="submit" isPending={replacing.isPending}>
                {blank.trim() === '' ? 'Give it a new code' : 'Put this label in its place'}
              </Button>
            </Acts>
          </Form>
        ) : (
          <p className="quiet">Those who work with things replace labels.</p>
        )}
      </Section>
    </>
  );
}

function blankNote(kind: ScanAnswer['kind']): string {
  const printed = kind === 'unit' || kind === 'lot' || kind === 'unsorted';
  return printed
    ? 'one of those printed beforehand; empty: it is given a new code, and the label is printed'
    : 'none are printed beforehand for this: leave it empty, and the new label is printed';
}
