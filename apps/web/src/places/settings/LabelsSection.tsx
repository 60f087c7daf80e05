import { type LabelPrinter, LabelStock } from '@corewright/contracts/labels';
import { commandCards } from '@corewright/contracts/scanning';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { printersQuery } from '../labels/queries.js';
import { usePutPrinter } from './actions.js';
import styles from './SettingsScreen.module.css';

const stockWords: Readonly<Record<LabelStock, string>> = {
  'tie-on tag': 'tie-on tag, 100 x 50 mm, two a unit',
  'bag label': 'bag label, 50 x 30 mm',
  'A4 sheet': 'A4 sheet of 24',
};
const stockChoices = LabelStock.options.map((stock) => ({ value: stock, label: stockWords[stock] }));
const dotChoices = [
  { value: '203', label: '203 dots an inch' },
  { value: '300', label: '300 dots an inch' },
] as const;

/** What labels are printed on, and with which dots: bars are drawn in whole dots, so the true resolution matters. */
export function LabelsSection({ mayEdit }: { readonly mayEdit: boolean }) {
  const printers = useQuery(printersQuery);
  const all = printers.data?.printers;
  const [edited, setEdited] = useState<LabelPrinter | 'new' | null>(null);
  return (
    <Section title="Label stock and printers" aside={`${commandCards.length} command cards`}>
      <div className={styles.columns}>
        <div className={styles.stack}>
          {all === undefined && printers.error === null && <Waiting>Printers are being fetched.</Waiting>}
          {printers.error !== null && <Failure word="Not shown" error={printers.error} />}
          {all?.length === 0 && (
            <Empty title="No printer yet">
              Name one, with the stock that is loaded in it. Labels can be printed from any A4 printer until then.
            </Empty>
          )}
          {all !== undefined && all.length > 0 && (
            <Table
              caption="Label printers"
              rows={all}
              rowKey={(printer) => printer.id}
              columns={[
                { key: 'name', head: 'printer', isLead: true, cell: (printer) => <b>{printer.name}</b> },
                { key: 'stock', head: 'loaded with', cell: (printer) => stockWords[printer.stock] },
                { key: 'dots', head: 'dots an inch', isNumeric: true, cell: (printer) => printer.dotsPerInch },
                {
                  key: 'acts',
                  head: 'acts',
                  cell: (printer) =>
                    mayEdit && (
                      <Button look="plain" label={`Change ${printer.name}`} onPress={() => setEdited(printer)}>
                        Change
                      </Button>
                    ),
                },
              ]}
            />
          )}
          <p className={styles.acts}>
            <ButtonLink href="/api/command-cards.pdf?stock=bag%20label&dotsPerInch=203" opensDocument>
              Command cards, bag labels
            </ButtonLink>
            <ButtonLink href="/api/command-cards.pdf?stock=A4%20sheet&dotsPerInch=300" opensDocument>
              Command cards, A4
            </ButtonLink>
          </p>
          <p className="quiet">
            A command card hangs by the bench: scanned, it changes the mode ({[...commandCards.slice(0, 4), 'count'].join(', ')}),
            makes one of three choices or takes the last act back.
          </p>
        </div>
        {mayEdit && edited === null && (
          <div>
            <Button onPress={() => setEdited('new')}>Name a printer</Button>
          </div>
        )}
        {mayEdit && edited !== null && (
          <PrinterForm
            key={edited === 'new' ? 'new' : edited.id}
            printer={edited === 'new' ? null : edited}
            onDone={() => setEdited(null)}
          />
        )}
      </div>
    </Section>
  );
}

function PrinterForm({ printer, onDone }: { readonly printer: LabelPrinter | null; readonly onDone: () => void }) {
  const [id] = useState(() => printer?.id ?? newKey());
  const [name, setName] = useState(printer?.name ?? '');
  const [stock, setStock] = useState<LabelStock>(printer?.stock ?? 'tie-on tag');
  const [dots, setDots] = useState<'203' | '300'>(printer?.dotsPerInch === 300 ? '300' : '203');
  const put = usePutPrinter();
  const send = () =>
    put.mutate(
      { id, version: printer?.version ?? null, printer: { name, stock, dotsPerInch: dots === '300' ? 300 : 203 } },
      { onSuccess: onDone },
    );
  return (
    <Form label={printer === null ? 'Name a printer' : `Change ${printer.name}`} onSubmit={send}>
      <TextField label="Printer" value={name} onChange={setName} note="As people call it: bench, goods-in" isRequired autoFocus />
      <SelectField label="Loaded with" value={stock} choices={stockChoices} onChange={setStock} />
      <SelectField
        label="Its true resolution"
        value={dots}
        choices={dotChoices}
        onChange={setDots}
        note="It stands in the printer’s papers. 203 is not 8 dots a millimetre."
      />
      <FieldPair>
        <Button type="submit" look="main" isPending={put.isPending}>
          Keep it
        </Button>
        <Button onPress={onDone}>Leave it as it was</Button>
      </FieldPair>
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is still there." />}
    </Form>
  );
}
