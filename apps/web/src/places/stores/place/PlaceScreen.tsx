import type { PlacePage } from '@corewright/contracts/places';
import { useQuery } from '@tanstack/react-query';
import { Button } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Tag } from '../../../ui/Tag.js';
import { TrayKit } from '../../jobs/pick-list/TrayKit.js';
import { LabelsOf } from '../../labels/LabelsOf.js';
import { LastCounted } from '../counting/LastCounted.js';
import { HistorySection } from '../history/HistorySection.js';
import { OpeningOfPlace } from '../opening/OpeningGaps.js';
import { placeQuery } from '../queries.js';
import { sayThings } from '../say-things.js';
import { Contents } from './Contents.js';
import { PlaceActs } from './PlaceActs.js';
import styles from './PlaceScreen.module.css';
import { Shelves } from './Shelves.js';

/** A place: what stands in it as one looks at it, and what lies in it. */
export function PlaceScreen({ placeId }: { readonly placeId: string }) {
  const place = useQuery(placeQuery(placeId));
  if (place.isPending) return <Waiting>Fetching the place …</Waiting>;
  if (place.data === undefined)
    return (
      <Failure error={place.error} word="Not shown" choices={<Button onPress={() => void place.refetch()}>Try again</Button>} />
    );
  return <PlaceShown place={place.data} />;
}

function PlaceShown({ place }: { readonly place: PlacePage }) {
  const { contents, children } = place;
  return (
    <>
      <h1 className="hidden">{place.path}</h1>
      <div className={styles.head}>
        <Tag
          kind="place"
          size="large"
          code={place.code}
          fact={factOf(place)}
          what={place.name}
          foot={[place.kind, place.nicknames]}
        >
          {place.path}
        </Tag>
        <PlaceActs place={place} />
      </div>
      {place.closed !== null && (
        <p className={styles.closed}>
          <b>Closed</b> since {sayInstant(place.closed.at, new Date())}
          {place.closed.by !== '' && `, by ${place.closed.by}`}. It takes no goods; what has been here stays on the record.
        </p>
      )}
      {place.kind === 'tray' ? <TrayKit trayId={place.id} /> : <OpeningOfPlace placeId={place.id} />}
      {contents.length > 0 && (
        <Section title="What lies here" aside={countOf(place)}>
          <Contents place={place} />
        </Section>
      )}
      {children.length > 0 && (
        <Section title="What stands in it" aside={children.length === 1 ? '1 place' : `${children.length} places`}>
          <Shelves places={children} label={`Places in ${place.name}`} />
        </Section>
      )}
      {contents.length === 0 && children.length === 0 && place.closed === null && (
        <Section title="What lies here">
          <Empty title="Nothing is here">
            Put something away here: choose the mode “put away”, scan this place once, then each thing. A bin that is scanned
            after it can be emptied into it at once.
          </Empty>
        </Section>
      )}
      <LastCounted of="places" id={place.id} />
      <LabelsOf subjectId={place.id} />
      <HistorySection of="place" id={place.id} />
    </>
  );
}

function factOf(place: PlacePage): string {
  if (place.contents.length > 0 || place.children.length === 0) return countOf(place);
  return place.children.length === 1 ? '1 place in it' : `${place.children.length} places in it`;
}

function countOf(place: PlacePage): string {
  if (place.thingCount === 0) return 'nothing here';
  if (place.thingCount > place.contents.length) return `${place.contents.length} of ${sayThings(place.thingCount)}`;
  return sayThings(place.thingCount);
}
