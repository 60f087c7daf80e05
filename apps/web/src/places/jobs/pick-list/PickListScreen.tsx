import type { JobKit, PickList } from '@corewright/contracts/pick-list';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { ChooseJobs } from './ChooseJobs.js';
import { KitOfJob } from './KitOfJob.js';
import styles from './PickList.module.css';
import { pickListQuery } from './queries.js';
import { Stop } from './Stop.js';
import { beginWalk, stopsOf, type Walked, walkOn } from './walked.js';

export interface PickListScreenProps {
  readonly jobIds: readonly string[];
  readonly onChoose: (jobIds: readonly string[]) => void;
}

/** What to fetch from stores for one job or several: place after place, as one walks, on a phone or on paper. */
export function PickListScreen({ jobIds, onChoose }: PickListScreenProps) {
  return (
    <>
      <PageHead
        title="Pick list"
        note="What to fetch from stores, place after place as one walks. What is scanned in the mode “pick” is struck through by itself."
        acts={
          <Acts>
            {jobIds.length > 0 && (
              <Button look="main" onPress={() => print()}>
                Print it
              </Button>
            )}
            <ButtonLink href="/jobs">All jobs</ButtonLink>
          </Acts>
        }
      />
      <ChooseJobs chosen={jobIds} onChoose={onChoose} />
      {jobIds.length === 0 ? (
        <Empty title="No job is chosen yet">
          Choose above the jobs for which you fetch. Several are fetched for in one walk.
        </Empty>
      ) : (
        <ListFor key={jobIds.join(',')} jobIds={jobIds} />
      )}
    </>
  );
}

function ListFor({ jobIds }: Pick<PickListScreenProps, 'jobIds'>) {
  const list = useQuery(pickListQuery(jobIds));
  if (list.isPending) return <Waiting>Sharing everything out …</Waiting>;
  if (list.data === undefined)
    return (
      <Failure error={list.error} word="Not shown" choices={<Button onPress={() => void list.refetch()}>Try again</Button>} />
    );
  return <ListShown list={list.data} />;
}

function ListShown({ list }: { readonly list: PickList }) {
  const walked = useWalked(list);
  const toTake = stopsOf(walked);
  const stops = withOffers(toTake, list);
  const jobs = new Map(list.jobs.map((job) => [job.id, job]));
  return (
    <>
      <ForJobs jobs={list.jobs} />
      <p role="status" className="read">
        {leftWords(list)}
      </p>
      {list.stops.length === 0 && (
        <Empty title={toTake.length === 0 ? 'Nothing is to be fetched' : 'Nothing is left to fetch'}>
          Whatever lies in stores for {list.jobs.length === 1 ? 'this job' : 'these jobs'} is in the tray or in the unit. What is
          still waited for stands below.
        </Empty>
      )}
      {/* all of it at once: what is not drawn yet would be white on paper */}
      <ol className={styles.stops} aria-label="Places, in walking order">
        {stops.map(({ place, rows }) => (
          <li key={place.id} className={styles.stopItem}>
            <Stop place={place} rows={rows} offers={offersAt(list, place.id)} jobs={jobs} mayAccept={list.mayAccept} />
          </li>
        ))}
      </ol>
      <Section title="How the trays stand" aside={list.jobs.length === 1 ? undefined : `${list.jobs.length} jobs`}>
        {list.jobs.map((job) => (
          <KitOfJob key={job.id} job={job} />
        ))}
      </Section>
    </>
  );
}

/** What may be had at a place only as another part. */
function offersAt({ offersAt: all }: PickList, placeId: string): PickList['offersAt'][number]['offers'] {
  return all.find(({ place }) => place.id === placeId)?.offers ?? [];
}

/** A place at which nothing is taken but an offer lies is passed all the same: after the others, in their walking order. */
function withOffers(stops: ReturnType<typeof stopsOf>, { offersAt: all }: PickList): ReturnType<typeof stopsOf> {
  const further = all.filter(({ place }) => stops.every((stop) => stop.place.id !== place.id));
  return [...stops, ...further.map(({ place }) => ({ place, rows: [] }))];
}

/** What the list says now, with what was taken from it since this screen was opened. */
function useWalked(list: PickList): Walked {
  const [walked, setWalked] = useState(() => beginWalk(list));
  if (walked.list === list) return walked;
  const now = walkOn(walked, list);
  setWalked(now);
  return now;
}

/** On paper nothing else says for whom it is. */
function ForJobs({ jobs }: { readonly jobs: readonly JobKit[] }) {
  return (
    <ul className={styles.forJobs} aria-label="Fetched for">
      {jobs.map((job) => (
        <li key={job.id}>
          <Code code={job.code} /> {job.name}, into {job.tray.name}
        </li>
      ))}
    </ul>
  );
}

function leftWords({ stops }: PickList): string {
  const rows = stops.reduce((count, stop) => count + stop.rows.length, 0);
  if (rows === 0) return '';
  return `${rows === 1 ? '1 label' : `${rows} labels`} to scan, in ${stops.length === 1 ? '1 place' : `${stops.length} places`}.`;
}
