import { type BlankKind, type CodeBlock, type LabelStock } from '@corewright/contracts/labels';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Form } from '../../ui/Form.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { sayInstantFully } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { setCodesAside, startLabelRun } from '../labels/actions.js';
import { printersQuery } from '../labels/queries.js';
import { RunOutcome } from '../labels/RunOutcome.js';
import { BLANK_WORDS } from './blank-labels.js';
import { blankLabelsQuery } from './queries.js';

const KINDS = (['unit', 'lot', 'unsorted'] as const).map((value) => ({ value, label: BLANK_WORDS[value].many }));
const COUNT_MAX = 500;

interface Wanted {
  /** A block that is printed again; without one, codes are set aside first. */
  readonly block: CodeBlock | null;
  readonly kind: BlankKind;
  readonly count: number;
  readonly stock: LabelStock;
}

/** Labels that are printed before anything bears them, for the yard and the sale: the first scan of one begins a row. */
export function BlankLabels() {
  const client = useQueryClient();
  const blocks = useQuery(blankLabelsQuery).data?.blocks ?? [];
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const [kind, setKind] = useState<BlankKind>('unit');
  const [keyed, setKeyed] = useState('24');
  const count = countOf(keyed);
  const run = useMutation({
    mutationFn: async (wanted: Wanted) => {
      const { id } = wanted.block ?? (await setCodesAside({ id: newKey(), kind: wanted.kind, count: wanted.count }, newKey()));
      const dotsPerInch = printers.find((printer) => printer.stock === wanted.stock)?.dotsPerInch ?? 300;
      return startLabelRun(
        { id: newKey(), blockId: id, onlyUnlabelled: false, stock: wanted.stock, dotsPerInch, startCell: 1 },
        newKey(),
      );
    },
    onSettled: () => void client.invalidateQueries({ queryKey: blankLabelsQuery.queryKey }),
  });
  const print = (stock: LabelStock, block: CodeBlock | null = null) => {
    if (block !== null) run.mutate({ block, kind: block.kind, count: block.count, stock });
    else if (count !== null) run.mutate({ block, kind, count, stock });
  };

  return (
    <Section title="Blank labels" aside="printed beforehand, to take along">
      <p className="quiet">
        Take them to the yard or the sale. The first scan of one, with the load open, begins a row that bears it.
      </p>
      <Form label="Print blank labels" onSubmit={() => print(BLANK_WORDS[kind].stock)}>
        <SelectField label="For" value={kind} choices={KINDS} onChange={setKind} />
        <TextField
          label="How many"
          value={keyed}
          onChange={setKeyed}
          inputMode="numeric"
          error={count === null ? `A number from 1 to ${COUNT_MAX}.` : null}
        />
        <Acts>
          <Button look="main" type="submit" isPending={run.isPending} isDisabled={count === null}>
            {BLANK_WORDS[kind].stock === 'tie-on tag' ? 'Print on tags' : 'Print on labels'}
          </Button>
          <Button onPress={() => print('A4 sheet')} isPending={run.isPending} isDisabled={count === null}>
            Print on A4
          </Button>
        </Acts>
      </Form>
      {(run.data !== undefined || run.isError) && <RunOutcome run={run.data} error={run.error} />}
      {blocks.length > 0 && (
        <Table
          caption="Blank labels that are on nothing yet"
          columns={columnsOf((block) => print('A4 sheet', block))}
          rows={blocks}
          rowKey={(block) => block.id}
        />
      )}
    </Section>
  );
}

function columnsOf(onPrint: (block: CodeBlock) => void): readonly Column<CodeBlock>[] {
  return [
    {
      key: 'codes',
      head: 'codes',
      isLead: true,
      cell: (block) => (
        <>
          <Code code={block.first} size="row" /> to <Code code={block.last} size="row" />
        </>
      ),
    },
    { key: 'for', head: 'for', cell: (block) => BLANK_WORDS[block.kind].many },
    { key: 'free', head: 'on nothing yet', isNumeric: true, cell: (block) => `${block.free.length} of ${block.count}` },
    { key: 'by', head: 'set aside', cell: (block) => `${block.by}, ${sayInstantFully(block.at)}` },
    {
      key: 'again',
      head: 'again',
      cell: (block) => (
        <Button onPress={() => onPrint(block)}>{block.printed === 0 ? 'Print on A4' : 'Print again on A4'}</Button>
      ),
    },
  ];
}

function countOf(text: string): number | null {
  const count = Number(text);
  return Number.isInteger(count) && count >= 1 && count <= COUNT_MAX ? count : null;
}
