import type { LoadPage } from '@corewright/contracts/goods-in';
import type { LabelPrinter, LabelStock } from '@corewright/contracts/labels';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Button } from '../../ui/Button.js';
import { CheckField } from '../../ui/CheckField.js';
import { TextField } from '../../ui/TextField.js';
import { startLabelRun } from '../labels/actions.js';
import { printersQuery } from '../labels/queries.js';
import { RunOutcome } from '../labels/RunOutcome.js';
import { SHEET_CELLS, SheetPicture, sheetsNeeded } from '../labels/SheetPicture.js';
import styles from './LabelRunPanel.module.css';
import { loadQuery, loadsQuery } from './queries.js';

/** The labels of a load: tags for units, bag labels for lots and unsorted things, or all of them on A4 sheets. */
export function LabelRunPanel({ load }: { readonly load: LoadPage }) {
  const client = useQueryClient();
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const [onlyUnlabelled, setOnlyUnlabelled] = useState(true);
  const [startCell, setStartCell] = useState('1');
  const rows = load.rows.filter((row) => !row.struckOut && !(onlyUnlabelled && row.labelled));
  const tags = rows.filter((row) => row.kind === 'unit').length * 2;
  const bags = rows.filter((row) => row.kind !== 'unit').length;
  const start = cellOf(startCell);
  const run = useMutation({
    mutationFn: (printer: Pick<LabelPrinter, 'stock' | 'dotsPerInch'>) =>
      startLabelRun(
        {
          id: newKey(),
          loadId: load.id,
          onlyUnlabelled,
          stock: printer.stock,
          dotsPerInch: printer.dotsPerInch,
          startCell: printer.stock === 'A4 sheet' ? (start ?? 1) : 1,
        },
        newKey(),
      ),
    onSuccess: (made) => {
      if (made.nextFreeCell !== null) setStartCell(String(made.nextFreeCell));
      void client.invalidateQueries({ queryKey: loadQuery(load.id).queryKey });
      void client.invalidateQueries({ queryKey: loadsQuery.queryKey });
    },
  });
  const print = (stock: LabelStock) => {
    const printer = printerFor(printers, stock);
    run.mutate({ stock, dotsPerInch: printer?.dotsPerInch ?? (stock === 'A4 sheet' ? 300 : 203) });
  };

  return (
    <section className={styles.ready} aria-labelledby="label-run">
      <div>
        <h2 id="label-run">{rows.length === 0 ? 'No label to print' : 'Label run ready'}</h2>
        <p>{sayRun(load, rows.length, onlyUnlabelled)}</p>
        <CheckField isSelected={onlyUnlabelled} onChange={setOnlyUnlabelled}>
          only what has no label yet
        </CheckField>
      </div>
      <div>
        <h3>{tags} tie-on tags, 100 × 50</h3>
        <p>Two a unit: one on the casing, one wired for the paperwork. {sayPrinter(printers, 'tie-on tag')}</p>
        <Button
          look={tags > 0 ? 'main' : 'usual'}
          onPress={() => print('tie-on tag')}
          isDisabled={tags === 0}
          isPending={run.isPending}
        >
          {tags === 0 ? 'No tags to print' : 'Print the tags'}
        </Button>
      </div>
      <div>
        <h3>{bags} labels, 50 × 30</h3>
        <p>Bags and boxes. {sayPrinter(printers, 'bag label')}</p>
        <Button
          look={bags > 0 ? 'main' : 'usual'}
          onPress={() => print('bag label')}
          isDisabled={bags === 0}
          isPending={run.isPending}
        >
          {bags === 0 ? 'No labels to print' : 'Print the labels'}
        </Button>
      </div>
      <div>
        <h3>A4 sheet of 24</h3>
        <div className={styles.sheet}>
          <SheetPicture start={start ?? 1} count={tags + bags} />
          <TextField
            label="Start at cell"
            value={startCell}
            onChange={setStartCell}
            inputMode="numeric"
            note={saySheets(sheetsNeeded(start ?? 1, tags + bags))}
            error={start === null ? 'A cell from 1 to 24.' : null}
          />
        </div>
        <Button onPress={() => print('A4 sheet')} isDisabled={tags + bags === 0 || start === null} isPending={run.isPending}>
          {tags + bags === 0 ? 'Nothing for a sheet' : `Print all ${tags + bags} on A4`}
        </Button>
      </div>
      {(run.data !== undefined || run.isError) && (
        <div className={styles.outcome}>
          <RunOutcome run={run.data} error={run.error} />
        </div>
      )}
    </section>
  );
}

function printerFor(printers: readonly LabelPrinter[], stock: LabelStock): LabelPrinter | undefined {
  return printers.find((printer) => printer.stock === stock);
}

function sayPrinter(printers: readonly LabelPrinter[], stock: LabelStock): string {
  const printer = printerFor(printers, stock);
  return printer === undefined
    ? 'No printer is set up for these; drawn at 203 dpi. Say in Settings what you have.'
    : `Printer “${printer.name}”, ${printer.dotsPerInch} dpi.`;
}

function sayRun(load: LoadPage, count: number, onlyUnlabelled: boolean): string {
  if (load.rowCount === 0) return 'Key the first row; its label is ready as soon as it has a code.';
  if (count === 0)
    return onlyUnlabelled
      ? 'Every row has had its label. Take the tick out to print them again.'
      : 'No row is left in this load.';
  const placeless = load.rows.filter((row) => !row.struckOut && row.place === null).length;
  return `${count} ${count === 1 ? 'row' : 'rows'}.${placeless === 0 ? '' : ` ${placeless} without a place yet: labels print all the same.`}`;
}

function saySheets(sheets: number): string {
  return sheets === 1 ? '1 sheet' : `${sheets} sheets`;
}

function cellOf(text: string): number | null {
  const cell = Number(text);
  return Number.isInteger(cell) && cell >= 1 && cell <= SHEET_CELLS ? cell : null;
}
