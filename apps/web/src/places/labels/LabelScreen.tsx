import type { LabelStock, LabelText } from '@corewright/contracts/labels';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Waiting } from '../../ui/Empty.js';
import { FieldPair } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { startLabelRun } from './actions.js';
import { LabelProof } from './LabelProof.js';
import styles from './LabelScreen.module.css';
import { proofOf } from './proof-scene.js';
import { labelQuery, printersQuery } from './queries.js';
import { RunOutcome } from './RunOutcome.js';
import { SHEET_CELLS, SheetPicture } from './SheetPicture.js';

const STOCKS: readonly { value: LabelStock; label: string }[] = [
  { value: 'tie-on tag', label: 'tie-on tag, 100 × 50 mm' },
  { value: 'bag label', label: 'bag label, 50 × 30 mm' },
  { value: 'A4 sheet', label: 'A4 sheet of 24' },
];
const RESOLUTIONS = [
  { value: '203', label: '203 dpi' },
  { value: '300', label: '300 dpi' },
] as const;

/** One label: its proof, and printing it again. */
export function LabelScreen({ code }: { readonly code: string }) {
  const label = useQuery(labelQuery(code));
  if (label.isPending) return <Waiting>Fetching the label …</Waiting>;
  if (label.data === undefined)
    return (
      <Failure error={label.error} word="Not shown" choices={<Button onPress={() => void label.refetch()}>Try again</Button>} />
    );
  return <LabelShown key={label.data.code} label={label.data} />;
}

function LabelShown({ label }: { readonly label: LabelText }) {
  const [stock, setStock] = useState(label.stock);
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const [chosen, setChosen] = useState<'203' | '300' | null>(null);
  const resolution =
    chosen ??
    (String(printers.find((printer) => printer.stock === stock)?.dotsPerInch ?? (stock === 'A4 sheet' ? 300 : 203)) as
      | '203'
      | '300');
  const dotsPerInch = resolution === '300' || stock === 'A4 sheet' ? 300 : 203;
  return (
    <>
      <PageHead
        title={
          <>
            Label <Code code={label.code} />
          </>
        }
        note={printedBefore(label)}
      />
      <div className={styles.two}>
        <Proof label={label} stock={stock} dotsPerInch={dotsPerInch} />
        <Section title="Print it">
          <FieldPair>
            <SelectField label="Stock" value={stock} choices={STOCKS} onChange={setStock} />
            {stock !== 'A4 sheet' && (
              <SelectField label="Printer’s resolution" value={resolution} choices={RESOLUTIONS} onChange={setChosen} />
            )}
          </FieldPair>
          <PrintForm label={label} stock={stock} dotsPerInch={dotsPerInch} />
        </Section>
      </div>
    </>
  );
}

function Proof({
  label,
  stock,
  dotsPerInch,
}: {
  readonly label: LabelText;
  readonly stock: LabelStock;
  readonly dotsPerInch: 203 | 300;
}) {
  const proof = useQuery({
    queryKey: ['labels', label.code, 'proof', stock, dotsPerInch, label],
    queryFn: () => proofOf(label, stock, dotsPerInch),
    staleTime: Number.POSITIVE_INFINITY,
  });
  return (
    <Section title="Proof" aside={`drawn in the printer’s own dots, ${dotsPerInch} to the inch`}>
      {proof.isPending && <Waiting>Drawing the proof …</Waiting>}
      {proof.isError && <Failure error={proof.error} word="Not drawn" />}
      {proof.data !== undefined && (
        <div className={stock === 'tie-on tag' ? styles.tag : styles.bag}>
          <LabelProof {...proof.data} name={`${proof.data.stock.name}, ${label.code}, ${label.title}`} />
        </div>
      )}
    </Section>
  );
}

function PrintForm({
  label,
  stock,
  dotsPerInch,
}: {
  readonly label: LabelText;
  readonly stock: LabelStock;
  readonly dotsPerInch: 203 | 300;
}) {
  const client = useQueryClient();
  const [startCell, setStartCell] = useState('1');
  const start = Number(startCell);
  const isCell = Number.isInteger(start) && start >= 1 && start <= SHEET_CELLS;
  const run = useMutation({
    mutationFn: () =>
      startLabelRun(
        {
          id: newKey(),
          codes: [label.code],
          onlyUnlabelled: false,
          stock,
          dotsPerInch,
          startCell: stock === 'A4 sheet' ? start : 1,
        },
        newKey(),
      ),
    onSuccess: () => void client.invalidateQueries({ queryKey: labelQuery(label.code).queryKey }),
  });
  return (
    <div className={styles.print}>
      {stock === 'A4 sheet' && (
        <div className={styles.sheet}>
          <SheetPicture start={isCell ? start : 1} count={label.copies} />
          <TextField
            label="Start at cell"
            value={startCell}
            onChange={setStartCell}
            inputMode="numeric"
            error={isCell ? null : 'A cell from 1 to 24.'}
          />
        </div>
      )}
      <Acts>
        <Button look="main" onPress={() => run.mutate()} isPending={run.isPending} isDisabled={stock === 'A4 sheet' && !isCell}>
          {label.copies === 1 ? 'Print the label' : `Print ${label.copies} labels`}
        </Button>
      </Acts>
      <RunOutcome run={run.data} error={run.error} />
    </div>
  );
}

function printedBefore(label: LabelText): string {
  const times =
    label.printedBefore === 0
      ? 'Not printed yet'
      : label.printedBefore === 1
        ? 'Printed once'
        : `Printed ${label.printedBefore} times`;
  return `${label.title}. ${times}.`;
}
