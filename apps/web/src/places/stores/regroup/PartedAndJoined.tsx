import type { RegroupingShown } from '@corewright/contracts/regrouping';
import type { Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Timeline } from '../../../ui/Timeline.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import styles from '../ThingScreen.module.css';
import { PutRightForm } from './PutRightForm.js';
import { regroupingsQuery } from './regroup-actions.js';

type Lot = Extract<Thing, { kind: 'lot' }>;

/** At the head of a page: this lot is part of another by now, which both labels open. */
export function PartOfAnother({ lotId }: { readonly lotId: string }) {
  const partOf = useQuery(regroupingsQuery(lotId)).data?.partOf ?? null;
  if (partOf === null) return null;
  return (
    <div className={styles.barred}>
      <b>Part of another</b>
      <p className={styles.missing}>
        <span>
          It turned out to be the same as{' '}
          <Go href={`/stores/things/${partOf.id}`}>
            <Code code={partOf.code} /> {partOf.name}
          </Go>{' '}
          and goes on as part of that.
        </span>
      </p>
    </div>
  );
}

/** What was split off a lot, and what became part of it. Nothing is shown of a lot that was never parted or joined. */
export function PartedAndJoined({ lot }: { readonly lot: Lot }) {
  const { which, open, close } = useOneForm<'put right'>();
  const mayPutRight = useKeepsBooks();
  const regroupings = useQuery(regroupingsQuery(lot.id));
  if (regroupings.isError) return <Failure error={regroupings.error} word="Not shown" />;
  const { changes = [], putRight = [], wasSplitOff = false } = regroupings.data ?? {};
  if (changes.length + putRight.length === 0) return null;
  const parted = changes.map((change) => ({ ...change, words: <PartedWords change={change} lotId={lot.id} /> }));
  const entries = [...parted, ...putRight.map((each) => ({ ...each, words: <>put right: {each.words}</> }))];
  return (
    <Section title="Parted and joined" aside="newest first">
      <Timeline
        label="Parted and joined"
        entries={entries
          .toSorted((one, other) => other.at.localeCompare(one.at))
          .map(({ id, at, words, why, by }) => ({
            id,
            when: sayInstant(at, new Date()),
            words: (
              <>
                {words} <span className="quiet">{[why, by].filter((each) => each !== '').join(', ')}</span>
              </>
            ),
          }))}
      />
      {wasSplitOff && mayPutRight && which === null && (
        <Acts>
          <Button onPress={() => open('put right')}>Put right what it is</Button>
        </Acts>
      )}
      {which !== null && <PutRightForm lot={lot} onClose={close} />}
    </Section>
  );
}

interface PartedProps {
  readonly change: RegroupingShown;
  readonly lotId: string;
}

function PartedWords({ change, lotId }: PartedProps) {
  return (
    <>
      {wordsOf(change, lotId)} <OtherLot change={change} lotId={lotId} />
    </>
  );
}

function wordsOf({ kind, quantity, from }: RegroupingShown, lotId: string): string {
  const isFrom = from.id === lotId;
  if (kind === 'split') return isFrom ? `${quantity} split off as` : `${quantity} split off`;
  return isFrom ? `${quantity}, all of it, became part of` : `${quantity} came to it from`;
}

function OtherLot({ change, lotId }: PartedProps) {
  const other = change.from.id === lotId ? change.to : change.from;
  return (
    <Go href={`/stores/things/${other.id}`}>
      <Code code={other.code} /> {other.name}
    </Go>
  );
}
