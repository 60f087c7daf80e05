import type { ReceiptPaper } from '@corewright/contracts/selling';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { TextField } from '../../ui/TextField.js';
import { useReceiptPaper } from '../stores/counter/actions.js';
import { receiptPaperQuery } from '../stores/counter/queries.js';

/** What stands on receipts beside the workshop's name. */
export function ReceiptSection() {
  const paper = useQuery(receiptPaperQuery);
  return (
    <Section title="Receipts">
      {paper.isPending && <Waiting>Fetching what stands on receipts …</Waiting>}
      {paper.isError && <Failure word="Not shown" error={paper.error} />}
      {paper.data !== undefined && <PaperForm key={paper.data.version} paper={paper.data} />}
    </Section>
  );
}

function PaperForm({ paper }: { readonly paper: ReceiptPaper }) {
  const [keyed, setKeyed] = useState(paper);
  const keep = useReceiptPaper();
  const put = (more: Partial<ReceiptPaper>) => setKeyed({ ...keyed, ...more });
  const send = () => {
    if (!keep.isPending) keep.mutate({ ...keyed, version: paper.version });
  };
  return (
    <Form label="What stands on receipts" onSubmit={send}>
      <TextField
        label="Address of the workshop"
        value={keyed.address}
        onChange={(address) => put({ address })}
        lines={3}
        note="as it stands below the name, line by line"
        maxLength={400}
      />
      <TextField
        label="Words on tax"
        value={keyed.taxWords}
        onChange={(taxWords) => put({ taxWords })}
        lines={2}
        note="your own words, tax number included. How second-hand goods and exchange units are taxed differs by country: ask an accountant"
        maxLength={400}
      />
      <TextField
        label="What else stands at the foot"
        value={keyed.footWords}
        onChange={(footWords) => put({ footWords })}
        lines={2}
        note="what comes back and until when, for example; receipts that were written keep what stood on them"
        maxLength={400}
      />
      {keep.isError && <Failure word="Not kept" error={keep.error} kept="What you keyed is kept." />}
      <Button type="submit" isPending={keep.isPending}>
        Keep this for receipts
      </Button>
    </Form>
  );
}
