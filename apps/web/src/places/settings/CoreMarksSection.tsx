import type { CoreReviewMarks } from '@corewright/contracts/core-ages';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { TextField } from '../../ui/TextField.js';
import { coreAgesQuery, useReviewMarks } from '../stores/core-queries.js';

/** After how many months in the yard a core is to be looked through. */
export function CoreMarksSection() {
  const ages = useQuery(coreAgesQuery);
  return (
    <Section title="Cores in the yard">
      {ages.isPending && <Waiting>The marks are being fetched.</Waiting>}
      {ages.isError && <Failure word="Not shown" error={ages.error} />}
      {ages.data !== undefined && <MarksForm key={ages.data.marks.version} marks={ages.data.marks} />}
    </Section>
  );
}

function wholeMonths(text: string): number | null {
  return /^\d{1,3}$/.test(text.trim()) && Number(text) > 0 ? Number(text) : null;
}

function MarksForm({ marks }: { readonly marks: CoreReviewMarks }) {
  const [keyed, setKeyed] = useState({ first: String(marks.firstMonths), second: String(marks.secondMonths) });
  const keep = useReviewMarks();
  const [firstMonths, secondMonths] = [wholeMonths(keyed.first), wholeMonths(keyed.second)];
  const send = () => {
    if (firstMonths !== null && secondMonths !== null) keep.mutate({ firstMonths, secondMonths, version: marks.version });
  };
  return (
    <Form label="When cores are looked through" onSubmit={send}>
      <FieldPair>
        <TextField
          label="Look a core through after, in months"
          inputMode="numeric"
          value={keyed.first}
          onChange={(first) => setKeyed({ ...keyed, first })}
          error={firstMonths === null ? 'Whole months, 1 or more' : null}
        />
        <TextField
          label="At the latest after, in months"
          inputMode="numeric"
          value={keyed.second}
          onChange={(second) => setKeyed({ ...keyed, second })}
          error={secondMonths === null ? 'Whole months, more than the first' : null}
        />
      </FieldPair>
      {keep.isError && <Failure word="Not kept" error={keep.error} kept="What you keyed is kept." />}
      <Button type="submit" isPending={keep.isPending}>
        Keep these marks
      </Button>
    </Form>
  );
}
