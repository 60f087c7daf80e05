import type { Acceptance } from '@corewright/contracts/acceptance';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { gradesQuery } from '../goods-in/queries.js';
import styles from './Acceptance.module.css';
import { useDecide } from './acceptance-queries.js';
import { pointWords, sayRule } from './core-points.js';
import { sayDecision, saySuggested } from './say-acceptance.js';

type Answer = { readonly key: string; readonly what: string; readonly answer: string; readonly note: string };

const columns: readonly Column<Answer>[] = [
  { key: 'what', head: 'looked at', isLead: true, cell: ({ what }) => what },
  { key: 'answer', head: 'answer', cell: ({ answer }) => <b>{answer}</b> },
  { key: 'note', head: 'note', isWide: true, cell: ({ note }) => note },
];

/** The sheet that stands, what it suggests, and what was decided by it; whoever keeps the books decides here. */
export function AcceptanceStanding({ acceptance }: { readonly acceptance: Acceptance }) {
  const mayDecide = useKeepsBooks();
  const { points, components, suggested, currency, decision, grades } = acceptance;
  const answers = [
    ...points.map((each) => ({ ...each, key: each.point, what: pointWords[each.point] })),
    ...components.map((each) => ({ ...each, key: `${each.position}`, what: `Re-usable: ${each.name}, ${each.share} %` })),
  ];
  return (
    <Section title="The sheet that stands" aside={`${acceptance.by}, ${sayInstant(acceptance.at, new Date())}`}>
      <div className={styles.suggested}>
        <span>It suggests</span>
        <strong>{saySuggested(suggested, currency)}</strong>
        <span>Decided</span>
        <strong>{sayDecision(acceptance)}</strong>
        <span className="quiet">{sayRule(grades)}</span>
      </div>
      {decision === null && mayDecide && <DecideForm key={acceptance.id} acceptance={acceptance} />}
      {decision === null && !mayDecide && <p className="quiet">Whoever keeps the books decides its grade and its credit.</p>}
      <Table caption="What was looked at" columns={columns} rows={answers} rowKey={({ key }) => key} />
    </Section>
  );
}

function DecideForm({ acceptance }: { readonly acceptance: Acceptance }) {
  const { least } = acceptance.suggested;
  const decide = useDecide(acceptance.unit.id, acceptance.id);
  const [keyed, setKeyed] = useState({ grade: least.grade ?? '', credit: least.credit ?? '', why: '' });
  const [wasTried, setWasTried] = useState(false);
  const offered = (useQuery(gradesQuery).data?.grades ?? []).filter(({ scale, retired }) => scale === 'core' && !retired);
  const differs = (least.grade !== null && keyed.grade !== least.grade) || (least.credit ?? '') !== keyed.credit.trim();
  const needsWhy = differs && keyed.why.trim() === '';
  const put = (more: Partial<typeof keyed>) => setKeyed({ ...keyed, ...more });
  const send = () => {
    setWasTried(true);
    if (!decide.isPending && keyed.grade !== '') decide.mutate(keyed);
  };
  const choices = offered.map(({ letter, meaning }) => ({ value: letter, label: `${letter}, ${meaning}` }));
  return (
    <Form label="Decide by this sheet" onSubmit={send}>
      <FieldPair>
        <SelectField
          label="Grade"
          value={keyed.grade}
          choices={keyed.grade === '' ? [{ value: '', label: 'choose one' }, ...choices] : choices}
          onChange={(grade) => put({ grade })}
          error={fieldWords(decide.error, 'grade') ?? (wasTried && keyed.grade === '' ? 'Say the grade.' : null)}
        />
        <TextField
          label="Credit"
          value={keyed.credit}
          onChange={(credit) => put({ credit })}
          note={`${acceptance.currency}; empty: none is given`}
          error={fieldWords(decide.error, 'credit')}
          inputMode="decimal"
          maxLength={20}
        />
      </FieldPair>
      {differs && (
        <TextField
          label="Why it differs from what is suggested"
          value={keyed.why}
          onChange={(why) => put({ why })}
          note="it stays on the record with your name"
          error={wasTried && needsWhy && decide.error !== null ? 'Say why.' : null}
          maxLength={200}
        />
      )}
      {decide.error !== null && <Failure word="Not decided" error={decide.error} kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={decide.isPending}>
          Decide, in my name
        </Button>
      </Acts>
    </Form>
  );
}
