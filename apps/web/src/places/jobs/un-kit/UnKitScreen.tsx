import type { ClaimsAfter, TrayContents, TrayRow } from '@corewright/contracts/un-kit';
import { useQuery } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { sayCode } from '../../../scan/acts.js';
import { type PlaceScanned, placeOfScan } from '../../../scan/resolve.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { sayQuantity } from '../pick-list/say-kit.js';
import { trayContentsQuery, useUndoUnKit, useUnKit } from './queries.js';
import { TrayRowShown } from './TrayRowShown.js';
import styles from './UnKit.module.css';

/** Empties a job's tray: what lies in it, in the walking order of where it came from, and back there in one act or scan by scan. */
export function UnKitScreen({ jobId }: { readonly jobId: string }) {
  const contents = useQuery(trayContentsQuery(jobId));
  if (contents.isPending) return <Waiting>Looking into the tray …</Waiting>;
  if (contents.data === undefined)
    return (
      <Failure
        error={contents.error}
        word="Not shown"
        choices={<Button onPress={() => void contents.refetch()}>Try again</Button>}
      />
    );
  return <TrayShown contents={contents.data} />;
}

const keyOf = ({ thing, from }: TrayRow) => `${thing.id} ${from?.id ?? ''}`;

/** What was chosen for the rows, and putting them back: all in one act, or one by a scan of its place and then of its label. */
function useEmptying({ job, tray, rows, mustGiveUp }: TrayContents) {
  const [chosen, setChosen] = useState<Readonly<Record<string, string>>>({});
  const [claims, setClaims] = useState<ClaimsAfter>(mustGiveUp ? 'given up' : 'as before');
  const [said, setSaid] = useState('');
  const [here, setHere] = useState<PlaceScanned | null>(null);
  // labels may be scanned faster than the server says which place the first scan was
  const scanned = useRef<Promise<PlaceScanned | null> | null>(null);
  const worksWithThings = useWorksWithThings();
  const putting = useUnKit(job.id, ({ words }) => setSaid(words));
  const placeOf = (row: TrayRow) => chosen[keyOf(row)] ?? row.from?.id ?? '';
  const put = (back: readonly TrayRow[], placeId?: string) => {
    if (putting.isPending) return;
    const sent = back.map((row) => ({ thingId: row.thing.id, placeId: placeId ?? placeOf(row), quantity: row.quantity }));
    putting.mutate({ claims: mustGiveUp ? 'given up' : claims, rows: sent });
  };
  const goTo = (code: string) => {
    const going = placeOfScan(code).catch(() => null);
    scanned.current = going;
    void going.then((place) => {
      if (scanned.current !== going) return;
      setHere(place);
      if (place !== null) return;
      scanned.current = null;
      setSaid(`${sayCode(code)} is no place to put things back to, or there is no network. Nothing was put back.`);
    });
  };
  useScanTaker((parsed) => {
    if (!worksWithThings) return false;
    if (parsed.kind === 'P' && parsed.code !== tray.code) {
      goTo(parsed.code);
      return true;
    }
    const row = scanned.current === null ? undefined : rows.find(({ thing }) => thing.code === parsed.code);
    if (row === undefined) return false;
    void scanned.current?.then((place) => place !== null && put([row], place.id));
    return true;
  });
  const choose = (row: TrayRow, placeId: string) => setChosen({ ...chosen, [keyOf(row)]: placeId });
  return {
    placeOf,
    choose,
    isChanged: Object.keys(chosen).length > 0,
    claims,
    setClaims,
    said,
    setSaid,
    put,
    putting,
    here,
  };
}

function TrayShown({ contents }: { readonly contents: TrayContents }) {
  const { job, tray, rows, mustGiveUp, state } = contents;
  const emptying = useEmptying(contents);
  const { putting, claims, setClaims } = emptying;
  return (
    <>
      <PageHead
        title="Empty the tray"
        note={`${tray.name}, ${job.name}, ${sayCode(job.code)}: ${state}`}
        acts={<ButtonLink href={`/jobs/${job.id}`}>Job card</ButtonLink>}
      />
      <p role="status" className="read">
        {emptying.said}
      </p>
      {putting.isError && <Failure error={putting.error} word="Not put back" kept="What you chose is kept." />}
      <LastTime contents={contents} onSaid={emptying.setSaid} />
      {rows.length === 0 ? (
        <Empty
          title="Nothing lies in this tray"
          choices={<ButtonLink href={`/jobs/pick-list?jobs=${job.id}`}>Pick list</ButtonLink>}
        >
          What is picked for the job lies here until it is fitted.
        </Empty>
      ) : (
        <>
          <WhatBecomes claims={claims} mustGiveUp={mustGiveUp} state={state} rows={rows} onClaims={setClaims} />
          <GoesBack rows={rows} emptying={emptying} />
        </>
      )}
    </>
  );
}

interface GoesBackProps {
  readonly rows: readonly TrayRow[];
  readonly emptying: ReturnType<typeof useEmptying>;
}

/** The rows in walking order, and the button for all of them. */
function GoesBack({ rows, emptying }: GoesBackProps) {
  const { here, placeOf, choose, put, putting, isChanged } = emptying;
  const worksWithThings = useWorksWithThings();
  const unplaced = rows.filter((row) => placeOf(row) === '').length;
  return (
    <>
      <Section title="What goes back" aside={rows.length === 1 ? '1 row' : `${rows.length} rows`}>
        <p className="quiet">
          {here === null
            ? 'Scan a place, then each label that you put back there; or all of it in one act below.'
            : `At ${here.path}: scan each label that you put back here.`}
        </p>
        <ul aria-label="In the walking order of where it came from">
          {rows.map((row) => (
            <TrayRowShown
              key={keyOf(row)}
              row={row}
              placeId={placeOf(row)}
              isHere={here !== null && placeOf(row) === here.id}
              onPlace={(placeId) => choose(row, placeId)}
            />
          ))}
        </ul>
      </Section>
      {worksWithThings && (
        <Acts>
          <Button look="main" isPending={putting.isPending} isDisabled={unplaced > 0} onPress={() => put(rows)}>
            {actOf(unplaced, isChanged)}
          </Button>
        </Acts>
      )}
    </>
  );
}

function actOf(unplaced: number, isChanged: boolean): string {
  if (unplaced > 0) return `Say first where ${unplaced === 1 ? '1 row goes' : `${unplaced} rows go`}`;
  return isChanged ? 'All of it back, as it stands above' : 'All back where it came from';
}

interface WhatBecomesProps {
  readonly claims: ClaimsAfter;
  readonly mustGiveUp: boolean;
  readonly state: string;
  readonly rows: readonly TrayRow[];
  readonly onClaims: (claims: ClaimsAfter) => void;
}

/** What becomes of what is promised to the job, told before anything moves. */
function WhatBecomes({ claims, mustGiveUp, state, rows, onClaims }: WhatBecomesProps) {
  const reserved = rows.filter((row) => row.reserved !== '0');
  if (mustGiveUp)
    return <p className="read">This job is {state}: what goes back is promised to it no longer, and free for others.</p>;
  return (
    <>
      <RadioRow
        label="What is promised to the job"
        value={claims}
        onChange={onClaims}
        choices={[
          { value: 'as before', label: 'as it was before it was fetched' },
          { value: 'given up', label: 'given up' },
        ]}
      />
      <p className="read">
        {claims === 'given up' || reserved.length === 0
          ? 'All of it will be free for other jobs.'
          : `${reserved.map(({ reserved: many, unitOfMeasure, thing }) => `${sayQuantity(many, unitOfMeasure)} of ${sayCode(thing.code)}`).join(', ')} had been reserved before and will be reserved again; the rest will be free.`}
      </p>
    </>
  );
}

/** The last time something went back, as long as it can be undone. */
function LastTime({ contents: { last }, onSaid }: { readonly contents: TrayContents; readonly onSaid: (words: string) => void }) {
  const worksWithThings = useWorksWithThings();
  const undoing = useUndoUnKit(({ words }) => onSaid(words));
  if (last === null) return null;
  return (
    <div className={styles.notes}>
      <p>
        {last.words} by {last.by}, {sayInstant(last.at, new Date())}.
      </p>
      {undoing.isError && <Failure error={undoing.error} word="Not undone" />}
      {worksWithThings && (
        <Button isPending={undoing.isPending} onPress={() => undoing.mutate(last.id)}>
          Undo that: all of it into the tray again
        </Button>
      )}
    </div>
  );
}
