import { type ImportFault, ImportReport, importFiles } from '@corewright/contracts/imports';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import { api } from '../../api/client.js';
import { ApiProblem } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Failure, Problem } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { Table } from '../../ui/Table.js';
import { ImportProgress } from './ImportProgress.js';
import { type ChosenFiles, sortFiles } from './import-files.js';
import styles from './SettingsScreen.module.css';

/** A workshop's own files: tried first, with a report by row; then brought in all or not at all. */
export function ImportSection() {
  const [chosen, setChosen] = useState<ChosenFiles | null>(null);
  const client = useQueryClient();
  const bringIn = useMutation({
    mutationFn: ({ files, apply }: { files: ChosenFiles; apply: 'yes' | 'no' }) => {
      const body = new FormData();
      // in the order in which they lean on one another
      for (const name of importFiles) {
        const file = files.known.get(name);
        if (file !== undefined) body.append(name, file, file.name);
      }
      return api.send(ImportReport, 'POST', `/api/imports?apply=${apply}`, body, { key: newKey() });
    },
    onSuccess: (report) => (report.applied ? client.invalidateQueries() : undefined),
  });
  const report = bringIn.data ?? null;
  const canApply = chosen !== null && report !== null && !report.applied && report.faultsTotal === 0;

  return (
    <Section title="Bring in files" aside="CSV">
      <div className={styles.stack}>
        <p className="read">
          Choose one file or many. Trying them changes nothing and tells every fault with its file and line; bringing them in
          takes all of them or none. Files are known by their names: {importFiles.join(', ')}.
        </p>
        <label className={styles.files}>
          <b>Files</b>
          <input
            type="file"
            accept=".csv,text/csv,text/plain"
            multiple
            onChange={(event) => {
              setChosen(sortFiles(event.target.files ?? []));
              bringIn.reset();
            }}
          />
        </label>
        {chosen !== null && <ChosenWords chosen={chosen} />}
        {chosen !== null && chosen.known.size > 0 && (
          <Acts>
            <Button
              look={canApply ? 'usual' : 'main'}
              isPending={bringIn.isPending}
              onPress={() => bringIn.mutate({ files: chosen, apply: 'no' })}
            >
              Try them
            </Button>
            {canApply && (
              <Button look="main" isPending={bringIn.isPending} onPress={() => bringIn.mutate({ files: chosen, apply: 'yes' })}>
                Bring them in
              </Button>
            )}
          </Acts>
        )}
        <ImportProgress isOwn={bringIn.isPending} />
        {bringIn.error !== null && <Failure word="Not read" error={bringIn.error} kept={keptOf(bringIn.error)} />}
        {report !== null && <Report report={report} />}
      </div>
    </Section>
  );
}

/** The server goes on when the line to it breaks, and only it knows. */
function keptOf(error: Error): string {
  const isUnknown = error instanceof ApiProblem && error.code === 'no-answer';
  return isUnknown
    ? 'If the files had reached the server it goes on with them: try them again, and what came in is counted as known.'
    : '';
}

function ChosenWords({ chosen }: { readonly chosen: ChosenFiles }) {
  return (
    <>
      {chosen.known.size > 0 && (
        <p>
          <b>Will be read:</b> {[...chosen.known.keys()].join(', ')}.
        </p>
      )}
      {chosen.unknown.length > 0 && (
        <Problem
          word="Not known"
          reason={`No such file is read: ${chosen.unknown.join(', ')}`}
          next="Give it one of the names above, then choose again. It is left out."
        />
      )}
      {chosen.twice.length > 0 && (
        <Problem
          word="Twice"
          reason={`Chosen twice: ${chosen.twice.join(', ')}`}
          next="The first is read, the second left out."
        />
      )}
    </>
  );
}

function Report({ report }: { readonly report: ImportReport }) {
  const added = report.files.reduce((sum, file) => sum + file.added, 0);
  return (
    <div className={styles.stack} role="status">
      <h3>
        {report.applied
          ? `Brought in: ${added} rows`
          : report.faultsTotal === 0
            ? `No fault found: ${added} rows would be added. Nothing is changed yet.`
            : `${report.faultsTotal} ${report.faultsTotal === 1 ? 'fault' : 'faults'}: nothing is brought in until all are mended`}
      </h3>
      <Table
        caption="Report by file"
        rows={report.files}
        rowKey={(file) => file.file}
        columns={[
          { key: 'file', head: 'file', isLead: true, cell: (file) => <b>{file.file}</b> },
          { key: 'encoding', head: 'encoding', cell: (file) => file.encoding },
          { key: 'rows', head: 'rows', isNumeric: true, cell: (file) => file.rows },
          { key: 'added', head: 'added', isNumeric: true, cell: (file) => file.added },
          { key: 'unchanged', head: 'unchanged', isNumeric: true, cell: (file) => file.unchanged },
          { key: 'faults', head: 'faults', isNumeric: true, cell: (file) => file.faults },
        ]}
      />
      {report.faults.length > 0 && (
        <RowWords title="Faults by row" head="Fault" rows={report.faults}>
          {report.faultsTotal > report.faults.length && (
            <p>
              The first {report.faults.length} of {report.faultsTotal} are shown. Mend these, then try again.
            </p>
          )}
        </RowWords>
      )}
      {report.notes.length > 0 && <RowWords title="Taken, and worth a look" head="What was noticed" rows={report.notes} />}
    </div>
  );
}

interface RowWordsProps {
  readonly title: string;
  readonly head: string;
  readonly rows: readonly ImportFault[];
  readonly children?: ReactNode;
}

/** What there is to say of single rows, each with its file, line and column. */
function RowWords({ title, head, rows, children }: RowWordsProps) {
  return (
    <>
      <h3>{title}</h3>
      <Table
        caption={title}
        rows={rows}
        rowKey={(row) => `${row.file} ${row.line} ${row.column} ${row.words}`}
        columns={[
          { key: 'where', head: 'file and line', isLead: true, cell: (row) => `${row.file}, line ${row.line}` },
          { key: 'column', head: 'column', cell: (row) => row.column },
          { key: 'value', head: 'it says', cell: (row) => row.value },
          { key: 'words', head, cell: (row) => row.words },
        ]}
      />
      {children}
    </>
  );
}
