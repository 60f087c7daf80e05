import { BuildStandard } from '@corewright/contracts/base';
import type { PartPage } from '@corewright/contracts/catalogue';
import type { MayServe, Successor } from '@corewright/contracts/relations';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { MayServeTable } from './MayServeTable.js';
import styles from './PartRelations.module.css';
import { mayServeQuery } from './queries.js';
import { RecordRelationForm } from './RecordRelationForm.js';
import { RelationsOnRecord } from './RelationsOnRecord.js';

const STANDARDS: readonly Choice<BuildStandard | 'any'>[] = [
  { value: 'any', label: 'in any way' },
  ...BuildStandard.options.map((standard) => ({ value: standard, label: standard })),
];

/** What may be fitted in place of a part: by which way, on what evidence, and what of it is in stores. */
export function MayServeSection({ part }: { readonly part: PartPage }) {
  const [standard, setStandard] = useState<BuildStandard | 'any'>('any');
  const answer = useQuery(mayServeQuery(part.id, standard === 'any' ? null : standard));
  const { which, open, close } = useOneForm<'relation'>();
  const mayChange = useKeepsBooks();
  return (
    <Section title="What else will serve" aside={asideOf(answer.data)}>
      {answer.isPending && <Waiting>Looking at what will serve …</Waiting>}
      {answer.isError && answer.data === undefined && (
        <Failure
          error={answer.error}
          word="Not shown"
          choices={<Button onPress={() => void answer.refetch()}>Try again</Button>}
        />
      )}
      <div className={styles.standard}>
        <SelectField label="For a job built" value={standard} choices={STANDARDS} onChange={setStandard} />
      </div>
      {answer.data !== undefined && <MayServeTable answer={answer.data} />}
      {part.relations.length > 0 && <RelationsOnRecord relations={part.relations} mayWithdraw={mayChange} />}
      {mayChange && (
        <div className={styles.acts}>
          {which !== null ? (
            <RecordRelationForm part={part} onClose={close} />
          ) : (
            <Button onPress={() => open('relation')}>Record a relation</Button>
          )}
        </div>
      )}
    </Section>
  );
}

/** Above all else on the page of an old number: what it became, and the way there. */
export function Superseded({ successor }: { readonly successor: Successor }) {
  return (
    <div className={styles.superseded} role="note">
      <p>
        <b>Superseded.</b> {successor.words}
      </p>
      {successor.current.map((part) => (
        <Go key={part.id} href={`/stores/parts/${part.id}`}>
          To {part.number}, {part.name}
        </Go>
      ))}
    </div>
  );
}

function asideOf(answer: MayServe | undefined): string | undefined {
  if (answer === undefined) return undefined;
  const count = answer.candidates.length - 1;
  return count === 1 ? '1 other part' : `${count === 0 ? 'no' : count} other parts`;
}
