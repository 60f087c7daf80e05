import type { RegroupingShown } from '@corewright/contracts/regrouping';
import { useQuery } from '@tanstack/react-query';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Timeline } from '../../../ui/Timeline.js';
import styles from '../ThingScreen.module.css';
import { regroupingsQuery } from './regroup-actions.js';

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
export function PartedAndJoined({ lotId }: { readonly lotId: string }) {
  const regroupings = useQuery(regroupingsQuery(lotId));
  if (regroupings.isError) return <Failure error={regroupings.error} word="Not shown" />;
  const changes = regroupings.data?.changes ?? [];
  if (changes.length === 0) return null;
  return (
    <Section title="Parted and joined" aside="newest first">
      <Timeline
        label="Parted and joined"
        entries={changes.map((change) => ({
          id: change.id,
          when: sayInstant(change.at, new Date()),
          words: (
            <>
              {wordsOf(change, lotId)} <OtherLot change={change} lotId={lotId} />{' '}
              <span className="quiet">{[change.why, change.by].filter((words) => words !== '').join(', ')}</span>
            </>
          ),
        }))}
      />
    </Section>
  );
}

function wordsOf({ kind, quantity, from }: RegroupingShown, lotId: string): string {
  const isFrom = from.id === lotId;
  if (kind === 'split') return isFrom ? `${quantity} split off as` : `${quantity} split off`;
  return isFrom ? `${quantity}, all of it, became part of` : `${quantity} came to it from`;
}

function OtherLot({ change, lotId }: { readonly change: RegroupingShown; readonly lotId: string }) {
  const other = change.from.id === lotId ? change.to : change.from;
  return (
    <Go href={`/stores/things/${other.id}`}>
      <Code code={other.code} /> {other.name}
    </Go>
  );
}
