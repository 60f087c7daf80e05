import type { PlacePage } from '@corewright/contracts/places';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { Tag } from '../../ui/Tag.js';
import { VirtualList } from '../../ui/VirtualList.js';
import { TrayKit } from '../jobs/pick-list/TrayKit.js';
import { NotThereForm } from './NotThereForm.js';
import { placeQuery } from './queries.js';
import list from './StoresScreen.module.css';
import { sayThings } from './say-things.js';
import styles from './ThingScreen.module.css';

/** A place: what lies in it, and the places inside it. */
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
  return (
    <>
      <h1 className="hidden">{place.path}</h1>
      <div className={styles.top}>
        <Tag
          kind="place"
          size="large"
          code={place.code}
          fact={countOf(place)}
          what={place.name}
          foot={[place.kind, place.nicknames]}
        >
          {place.path}
        </Tag>
        <Acts>
          <ButtonLink href={`/labels/${place.code}`}>Label of this place</ButtonLink>
          {place.parentId !== null && <ButtonLink href={`/stores/places/${place.parentId}`}>The place around it</ButtonLink>}
        </Acts>
      </div>
      {place.kind === 'tray' && <TrayKit trayId={place.id} />}
      {place.contents.length > 0 && (
        <Section title="What lies here" aside={countOf(place)}>
          <VirtualList label="What lies here" items={place.contents} itemKey={(thing) => thing.id} estimate={50}>
            {(thing) => <Lying thing={thing} place={place} />}
          </VirtualList>
        </Section>
      )}
      {place.children.length > 0 && (
        <Section title="Places inside it" aside={`${place.children.length}`}>
          <VirtualList label="Places inside it" items={place.children} itemKey={(child) => child.id} estimate={50}>
            {(child) => (
              <Go className={list.hit} href={`/stores/places/${child.id}`}>
                <span>
                  <Code code={child.code} size="row" />
                </span>
                <span>
                  <b className={list.name}>{child.name}</b> <span className="quiet">{child.kind}</span>
                </span>
                <span />
                <span className={list.quantity}>{sayThings(child.thingCount)}</span>
              </Go>
            )}
          </VirtualList>
        </Section>
      )}
      {place.contents.length === 0 && place.children.length === 0 && (
        <Section title="What lies here">
          <Empty title="Nothing is here">
            Put something away here: choose the mode “put away”, scan this place once, then each thing.
          </Empty>
        </Section>
      )}
    </>
  );
}

interface LyingProps {
  readonly thing: PlacePage['contents'][number];
  readonly place: PlacePage;
}

/** A row of what lies here by the books; whoever stands here and does not find it says so. */
function Lying({ thing, place }: LyingProps) {
  const [isMissed, setMissed] = useState(false);
  const maySay = useWorksWithThings() && place.kind !== 'tray' && !thing.isMissing;
  return (
    <>
      <div className={list.lying}>
        <Go className={list.hit} href={`/stores/things/${thing.id}`}>
          <span>
            <Code code={thing.code} size="row" />
          </span>
          <span>
            <b className={list.name}>{thing.name}</b>
            {thing.isMissing && <b className={list.exact}> not found</b>}
          </span>
          <span className={list.where}>{thing.detail}</span>
          <span className={list.quantity}>{thing.quantity}</span>
        </Go>
        {maySay && !isMissed && (
          <Button look="plain" label={`Not there: ${thing.code}`} onPress={() => setMissed(true)}>
            Not there
          </Button>
        )}
      </div>
      {isMissed && (
        <div className={list.looked}>
          <NotThereForm thing={thing} placeId={place.id} where={place.path} onClose={() => setMissed(false)} />
        </div>
      )}
    </>
  );
}

function countOf(place: PlacePage): string {
  if (place.contents.length === 0) return 'nothing here';
  return sayThings(place.contents.length);
}
