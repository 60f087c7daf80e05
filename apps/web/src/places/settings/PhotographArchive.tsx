import { ArchiveReport } from '@corewright/contracts/pictures';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api } from '../../api/client.js';
import { Acts, Button } from '../../ui/Button.js';
import { Failure, Problem } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { countPhotographs } from '../photographs/say-photographs.js';
import styles from './SettingsScreen.module.css';

/** All photographs as one file, to keep or to bring in elsewhere. */
export function PhotographArchive() {
  const [chosen, setChosen] = useState<File | null>(null);
  const client = useQueryClient();
  const bringIn = useMutation({
    mutationFn: (archive: File) => api.send(ArchiveReport, 'POST', '/api/photograph-archive', archive),
    onSettled: () => client.invalidateQueries(),
  });
  return (
    <Section title="Photographs, out and in" aside="tar">
      <div className={styles.stack}>
        <p className="read">
          The archive holds every photograph as it was taken, without the place, and a list of what each shows. Brought in, it
          adds what is lacking and leaves the rest as it is. Bring the units, lots and jobs in first.
        </p>
        <ul className={styles.taken}>
          <li>
            <a href="/api/photograph-archive" download="photographs.tar">
              photographs.tar
            </a>
          </li>
        </ul>
        <label className={styles.files}>
          <b>Archive of photographs</b>
          <input
            type="file"
            accept=".tar,application/x-tar"
            onChange={(event) => {
              setChosen(event.target.files?.[0] ?? null);
              bringIn.reset();
            }}
          />
        </label>
        {chosen !== null && (
          <Acts>
            <Button look="main" isPending={bringIn.isPending} onPress={() => bringIn.mutate(chosen)}>
              Bring the photographs in
            </Button>
          </Acts>
        )}
        {bringIn.error !== null && (
          <Failure
            word="Not brought in"
            error={bringIn.error}
            kept="What had come in stays. The same archive may be sent again."
          />
        )}
        {bringIn.data !== undefined && <Outcome report={bringIn.data} />}
      </div>
    </Section>
  );
}

/** So many faults stand on the page; the rest are counted. */
const shownMax = 10;

function Outcome({ report }: { readonly report: ArchiveReport }) {
  const { kept, unchanged, faults, faultsTotal } = report;
  return (
    <div role="status">
      <p>
        {countPhotographs(kept)} kept, {unchanged} there already.
      </p>
      {faults.slice(0, shownMax).map(({ line, words }) => (
        <Problem key={`${line} ${words}`} word="Left out" reason={`Line ${line} of the list`} next={words} />
      ))}
      {faultsTotal > shownMax && <p>And {faultsTotal - shownMax} more were left out.</p>}
    </div>
  );
}
