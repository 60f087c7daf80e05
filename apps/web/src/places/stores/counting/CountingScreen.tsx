import type { CountBrief, CountDue } from '@corewright/contracts/counting';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { useScanDesk } from '../../../scan/scanning.js';
import { Button, ButtonLink } from '../../../ui/Button.js';
import { classNames } from '../../../ui/class-names.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayDay, sayInstant } from '../../../ui/say-when.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { useBeginCount } from './actions.js';
import styles from './Counting.module.css';
import { Hits } from './Hits.js';
import { countsDueQuery, countsQuery } from './queries.js';

export interface CountingScreenProps {
  /** a count was begun: its page is next */
  readonly onBegun: (countId: string) => void;
}

/** What is due to be counted, what is being counted, and how often the books were right. */
export function CountingScreen({ onBegun }: CountingScreenProps) {
  const counts = useQuery(countsQuery);
  return (
    <>
      <PageHead
        title="Counting"
        note="Choose a place or a part that is due, or the mode “count” (F10) and scan any place. Work goes on meanwhile: what is picked during a count makes no difference."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      {counts.isError && <Failure error={counts.error} word="Not shown" />}
      {counts.data !== undefined && counts.data.open.length > 0 && (
        <Section title="Under way" aside={`${counts.data.open.length} begun and not posted`}>
          {counts.data.open.map((count) => (
            <Open key={count.id} count={count} />
          ))}
        </Section>
      )}
      <Due onBegun={onBegun} />
      <Hits />
      {counts.data !== undefined && counts.data.ended.length > 0 && (
        <Section title="Closed" aside="newest first">
          {counts.data.ended.map((count) => (
            <Ended key={count.id} count={count} />
          ))}
        </Section>
      )}
    </>
  );
}

function Open({ count }: { readonly count: CountBrief }) {
  return (
    <div className={styles.row}>
      <b>
        Count {count.number}, {count.title}
      </b>
      <span className="quiet">
        since {sayInstant(count.begunAt, new Date())}, {count.begunBy}
      </span>
      <ButtonLink href={`/stores/counting/${count.id}`}>Go on with count {count.number}</ButtonLink>
    </div>
  );
}

function Ended({ count }: { readonly count: CountBrief }) {
  return (
    <div className={styles.row}>
      <Go href={`/stores/counting/${count.id}`}>
        Count {count.number}, {count.title}
      </Go>
      <span>
        <b>{count.ending}</b> {count.endedAt !== null && sayInstant(count.endedAt, new Date())}
      </span>
      <span className="quiet">{count.endingWords}</span>
    </div>
  );
}

/** More than these are looked at only by whoever asks for them: what came of counts stands below. */
const shownAtFirst = 20;

function Due({ onBegun }: CountingScreenProps) {
  const due = useQuery(countsDueQuery);
  const [isWhole, setWhole] = useState(false);
  if (due.isPending) return <Waiting>Looking what is due …</Waiting>;
  if (due.data === undefined) return <Failure error={due.error} word="Not shown" />;
  const { due: rows, dueTotal, more } = due.data;
  return (
    <Section
      title="What is due"
      aside={`${dueTotal} due, the longest overdue first${more ? '; there are more than are shown' : ''}`}
    >
      {rows.length === 0 ? (
        <Empty title="Nothing to count" choices={<ButtonLink href="/goods-in">To Goods-in</ButtonLink>}>
          Nothing lies in stores yet. What comes in through Goods-in and is put away is counted after so many days as Settings
          say.
        </Empty>
      ) : (
        <VirtualList
          label="What is due to be counted"
          items={isWhole ? rows : rows.slice(0, shownAtFirst)}
          itemKey={({ kind, id }) => `${kind} ${id}`}
          estimate={65}
        >
          {(row) => <DueRow row={row} onBegun={onBegun} />}
        </VirtualList>
      )}
      {!isWhole && rows.length > shownAtFirst && <Button onPress={() => setWhole(true)}>Show all {rows.length}</Button>}
    </Section>
  );
}

function DueRow({ row, onBegun }: { readonly row: CountDue } & CountingScreenProps) {
  const desk = useScanDesk();
  const mayCount = useWorksWithThings();
  const begin = useBeginCount(({ id }) => {
    desk.countIn(id);
    onBegun(id);
  });
  const href = row.kind === 'place' ? `/stores/places/${row.id}` : `/stores/parts/${row.id}`;
  return (
    <div className={styles.row}>
      <div>
        <Go href={href}>{row.name}</Go> <span className="quiet">{row.kind}</span>
        <div className="quiet">{row.why}</div>
      </div>
      <div>
        <b className={classNames(row.daysOver >= 0 && styles.over)}>{whenWords(row)}</b>
        <div className="quiet">{row.lastOn === null ? 'not counted yet' : `last counted ${sayDay(row.lastOn)}`}</div>
      </div>
      {row.underWay !== null ? (
        <ButtonLink href={`/stores/counting/${row.underWay.id}`}>Being counted: count {row.underWay.number}</ButtonLink>
      ) : (
        mayCount && (
          <Button
            label={`Count it: ${row.name}`}
            isPending={begin.isPending}
            onPress={() =>
              begin.mutate({ placeId: row.kind === 'place' ? row.id : null, partId: row.kind === 'part' ? row.id : null })
            }
          >
            Count it
          </Button>
        )
      )}
      {begin.isError && (
        <div className={styles.form}>
          <Failure error={begin.error} word="Not begun" />
        </div>
      )}
    </div>
  );
}

function whenWords({ daysOver, dueOn }: CountDue): string {
  if (daysOver < 0) return `due on ${sayDay(dueOn)}`;
  if (daysOver === 0) return 'due today';
  return `overdue by ${daysOver} ${daysOver === 1 ? 'day' : 'days'}`;
}
