import type { AgedLot, AgedStanding, ShelfLife } from '@corewright/contracts/shelf-life';
import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { sayDay } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { VirtualList } from '../../ui/VirtualList.js';
import { shelfLifeQuery } from './queries.js';
import styles from './ShelfLifeScreen.module.css';

export interface ShelfLifeScreenProps {
  /** The day of the list as in the address; empty is today. */
  readonly on: string;
  readonly onAsk: (on: string) => void;
}

/** What age has done, or soon will have done, to what is in stores; as it stands today, or on any other day. */
export function ShelfLifeScreen({ on, onAsk }: ShelfLifeScreenProps) {
  const [day, setDay] = useState(on);
  const [shown, setShown] = useState<Shown>('all');
  useEffect(() => setDay(on), [on]);
  const list = useQuery(shelfLifeQuery(on));
  return (
    <>
      <PageHead
        title="Shelf life"
        note="Rubber and preserved bearings that are past their life, can be extended, or end within six months, and rubber without a date; by the least favourable reading."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      <Form label="Shelf life" onSubmit={() => onAsk(day)}>
        <FieldPair>
          <TextField
            label="As it stands on"
            type="date"
            value={day}
            onChange={setDay}
            note="empty is today; of what lies in stores now"
          />
          <SelectField label="Show" value={shown} choices={choices} onChange={setShown} />
        </FieldPair>
        <Acts>
          <Button type="submit" look="main">
            Reckon it
          </Button>
        </Acts>
      </Form>
      {list.isPending && <Waiting>Reckoning the ages …</Waiting>}
      {list.isError && <Failure error={list.error} word="Not reckoned" />}
      {list.data !== undefined && <List list={list.data} shown={shown} />}
    </>
  );
}

type Shown = 'all' | AgedStanding;
const choices: readonly Choice<Shown>[] = [
  { value: 'all', label: 'all of these' },
  { value: 'past', label: 'past' },
  { value: 'extendable', label: 'extendable' },
  { value: 'unknown date', label: 'without a date' },
  { value: 'ends soon', label: 'ending within six months' },
];

type Line =
  | { readonly key: string; readonly place: ShelfLife['places'][number] }
  | { readonly key: string; readonly lot: AgedLot };

function List({ list, shown }: { readonly list: ShelfLife; readonly shown: Shown }) {
  const lines = linesOf(list, shown);
  const count = lines.filter((line) => 'lot' in line).length;
  return (
    <>
      <TitleBlock
        className={styles.facts}
        facts={[
          { label: 'On', value: sayDay(list.on) },
          { label: 'Past', value: list.counts.past },
          { label: 'Extendable', value: list.counts.extendable, note: 'an inspection would extend it' },
          { label: 'Without a date', value: list.counts['unknown date'], note: 'counts as past' },
          { label: 'End within six months', value: list.counts['ends soon'] },
        ]}
      />
      <Section
        title="By place"
        aside={`${count === 1 ? '1 lot' : `${count} lots`}${list.more ? ', the oldest; there are more' : ''}`}
      >
        {count === 0 ? (
          <Empty title="Nothing">
            Nothing that is in stores comes to its end by then, and nothing of this kind lacks a date.
          </Empty>
        ) : (
          <VirtualList label="By place" items={lines} itemKey={(line) => line.key} estimate={64}>
            {(line) => ('lot' in line ? <Lot lot={line.lot} /> : <PlaceHead place={line.place} />)}
          </VirtualList>
        )}
      </Section>
    </>
  );
}

function linesOf({ places }: ShelfLife, shown: Shown): Line[] {
  return places.flatMap((place): Line[] => {
    const lots = place.lots.filter((lot) => shown === 'all' || lot.standing === shown);
    if (lots.length === 0) return [];
    return [{ key: place.place?.id ?? 'nowhere', place }, ...lots.map((lot) => ({ key: lot.id, lot }))];
  });
}

function PlaceHead({ place: { place } }: { readonly place: ShelfLife['places'][number] }) {
  return (
    <h3 className={styles.place}>
      {place === null ? 'In no place of ours' : <Go href={`/stores/places/${place.id}`}>{place.name}</Go>}
    </h3>
  );
}

const words: Readonly<Record<AgedStanding, string>> = {
  past: 'past',
  extendable: 'extendable',
  'unknown date': 'no date',
  'ends soon': 'ends',
};

function Lot({ lot }: { readonly lot: AgedLot }) {
  return (
    <Go className={styles.lot} href={`/stores/things/${lot.id}`}>
      <Code code={lot.code} size="row" />
      <span>
        <b className={styles.name}>{lot.name}</b>{' '}
        <span className="quiet">{[lot.number, lot.owner].filter(Boolean).join(', ')}</span>
      </span>
      <span className={styles.standing}>
        <span className={lot.storageLife.stops ? styles.solid : styles.hollow} aria-hidden="true" />
        <span>
          <b>{words[lot.standing]}</b>
          {lot.endsOn !== null && ` ${lot.standing === 'ends soon' ? '' : 'since '}${sayDay(lot.endsOn)}`}
        </span>
      </span>
      <span className={styles.held}>{lot.held}</span>
      <span className={styles.why}>
        {lot.heldBack !== null && <b>Held back: {lot.heldBack}. </b>}
        {lot.storageLife.sentence}
      </span>
    </Go>
  );
}
