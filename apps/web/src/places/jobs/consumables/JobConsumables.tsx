import type { JobConsumables as Charged, JobConsumable } from '@corewright/contracts/consumables';
import type { JobCard } from '@corewright/contracts/jobs';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayInstant } from '../../../ui/say-when.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { ConsumablesCaution } from '../../stores/consumables/ConsumablesCaution.js';
import styles from './JobConsumables.module.css';
import { jobConsumablesQuery, useConsumableChange } from './queries.js';
import { UseForm } from './UseForm.js';

const closed: readonly JobCard['state'][] = ['done', 'released', 'called off'];

/** What the job is charged for consumables, each row with what it rests on, and the use that is keyed here in place of a scan. */
export function JobConsumables({ jobId, state }: { readonly jobId: string; readonly state: JobCard['state'] }) {
  const charged = useQuery(jobConsumablesQuery(jobId));
  const [isKeying, setKeying] = useState(false);
  const mayUse = useWorksWithThings() && !closed.includes(state);
  const { data } = charged;
  if (charged.isError) return <Failure error={charged.error} word="Not shown" />;
  if (data === undefined || (data.rows.length === 0 && data.choices.length === 0)) return null;
  return (
    <Section title="Consumables" aside={<Sum charged={data} />}>
      {data.rows.length === 0 ? (
        <p className="quiet">Nothing is charged yet. In the mode “fit” a scan of a container charges a use.</p>
      ) : (
        <ul className={styles.rows}>
          {data.rows.map((row) => (
            <Row key={row.id} row={row} jobId={jobId} currency={data.currency} />
          ))}
        </ul>
      )}
      {isKeying && <UseForm jobId={jobId} choices={data.choices} onClose={() => setKeying(false)} />}
      {mayUse && !isKeying && data.choices.length > 0 && (
        <Acts>
          <Button onPress={() => setKeying(true)}>Used on this job</Button>
        </Acts>
      )}
      <ConsumablesCaution />
    </Section>
  );
}

/** What is known comes to so much; what nobody knows is said, for it is not nought. */
function Sum({ charged: { sum, unknown, currency, rows } }: { readonly charged: Charged }) {
  const gap = unknown === 0 ? '' : `${unknown === 1 ? '1 row' : `${unknown} rows`} of unknown cost`;
  const nothingKnown = rows.every(({ amount }) => amount === null) && unknown > 0;
  if (sum === null || rows.length === 0 || nothingKnown) return <>{gap}</>;
  return (
    <>
      <b>{sayMoney(sum, currency)}</b>
      {gap !== '' && ` and ${gap}`}
    </>
  );
}

interface RowProps {
  readonly row: JobConsumable;
  readonly jobId: string;
  readonly currency: string;
}

function Row({ row, jobId, currency }: RowProps) {
  const [isCorrecting, setCorrecting] = useState(false);
  const close = () => setCorrecting(false);
  const change = useConsumableChange(jobId, close);
  const keepsBooks = useKeepsBooks();
  const worksWithThings = useWorksWithThings();
  const isFlat = row.kind === 'flat';
  const mayCorrect = row.putRight === null && (isFlat ? keepsBooks : worksWithThings);
  const what = row.uses === null ? row.part.name : `${row.uses === 1 ? '1 use' : `${row.uses} uses`} of ${row.part.name}`;
  return (
    <li className={styles.row}>
      <span className={styles.what}>
        {row.putRight === null ? <b>{what}</b> : <s>{what}</s>}{' '}
        {row.container !== null && (
          <Go href={`/stores/things/${row.container.id}`}>
            <Code code={row.container.code} size="row" />
          </Go>
        )}
      </span>
      <span className={styles.amount}>
        {row.amount !== null && sayMoney(row.amount, currency)}
        {row.unknown && <b>cost not known</b>}
      </span>
      <span className={styles.words}>
        {row.words}
        {row.at !== null && `; ${row.by}, ${sayInstant(row.at, new Date())}`}
        {row.override !== null && <b>; all the same: {row.override}</b>}
        {row.putRight !== null &&
          ` Counts no more: ${row.putRight.why} (${row.putRight.by}, ${sayInstant(row.putRight.at, new Date())}).`}
      </span>
      {row.putRight !== null && isFlat && keepsBooks && (
        <Acts>
          <Button
            label={`The job bears it after all: ${row.part.name}`}
            look="plain"
            isPending={change.isPending}
            onPress={() => change.mutate({ kind: 'put right', id: row.putRight?.id ?? '', why: 'the job bears it after all' })}
          >
            The job bears it after all
          </Button>
        </Acts>
      )}
      {mayCorrect && !isCorrecting && (
        <Acts>
          <Button label={`Put right: ${what}`} look="plain" onPress={() => setCorrecting(true)}>
            Put right
          </Button>
        </Acts>
      )}
      {isCorrecting && (
        <WhyForm
          label={`Put right: ${what}`}
          question={isFlat ? 'Why this job does not bear it' : 'Why it counts no more'}
          note="a second row with your name; the first stays on the record"
          act={isFlat ? 'The job does not bear it' : 'It counts no more'}
          failed="Not put right"
          sending={change}
          onWhy={(why) => change.mutate({ kind: isFlat ? 'drop' : 'put right', id: row.id, why })}
          onClose={close}
        />
      )}
    </li>
  );
}
