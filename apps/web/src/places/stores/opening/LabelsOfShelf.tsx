import type { LabelStock } from '@corewright/contracts/labels';
import type { OpeningRow } from '@corewright/contracts/opening-stock';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Section } from '../../../ui/Section.js';
import { TextField } from '../../../ui/TextField.js';
import { startLabelRun } from '../../labels/actions.js';
import { printersQuery } from '../../labels/queries.js';
import { RunOutcome } from '../../labels/RunOutcome.js';
import { SHEET_CELLS } from '../../labels/SheetPicture.js';

type Rows = readonly Pick<OpeningRow, 'code' | 'kind' | 'labelled'>[];

/** The labels that what was keyed here still lacks, several at once: tags for units, bag labels for the rest, or all on a sheet. */
export function LabelsOfShelf({ rows }: { readonly rows: Rows }) {
  const client = useQueryClient();
  const mayPrint = useWorksWithThings();
  const printers = useQuery(printersQuery).data?.printers ?? [];
  const [cell, setCell] = useState('1');
  const start = Number(cell);
  const isCell = Number.isInteger(start) && start >= 1 && start <= SHEET_CELLS;
  const lacking = rows.filter(({ labelled }) => !labelled);
  const tags = lacking.filter(({ kind }) => kind === 'unit');
  const bags = lacking.filter(({ kind }) => kind !== 'unit');
  const run = useMutation({
    mutationFn: ({ stock, of }: { stock: LabelStock; of: Rows }) =>
      startLabelRun(
        {
          id: newKey(),
          codes: of.map(({ code }) => code),
          onlyUnlabelled: true,
          stock,
          dotsPerInch: printers.find((printer) => printer.stock === stock)?.dotsPerInch ?? (stock === 'A4 sheet' ? 300 : 203),
          startCell: stock === 'A4 sheet' ? start : 1,
        },
        newKey(),
      ),
    onSuccess: () => client.invalidateQueries({ queryKey: ['stores', 'opening'] }),
  });
  if (!mayPrint || (lacking.length === 0 && run.data === undefined)) return null;
  return (
    <Section title="Labels" aside={lacking.length === 0 ? 'all printed' : `${lacking.length} not printed yet`}>
      <Acts>
        {tags.length > 0 && (
          <Button onPress={() => run.mutate({ stock: 'tie-on tag', of: tags })} isPending={run.isPending}>
            Print tags for {tags.length}
          </Button>
        )}
        {bags.length > 0 && (
          <Button onPress={() => run.mutate({ stock: 'bag label', of: bags })} isPending={run.isPending}>
            Print bag labels for {bags.length}
          </Button>
        )}
        {lacking.length > 0 && (
          <Button onPress={() => run.mutate({ stock: 'A4 sheet', of: lacking })} isDisabled={!isCell} isPending={run.isPending}>
            Print all {lacking.length} on a sheet
          </Button>
        )}
      </Acts>
      {lacking.length > 0 && (
        <TextField
          label="First free cell of the sheet"
          value={cell}
          onChange={setCell}
          inputMode="numeric"
          error={isCell ? null : `A cell from 1 to ${SHEET_CELLS}.`}
        />
      )}
      <RunOutcome run={run.data} error={run.error} />
    </Section>
  );
}
