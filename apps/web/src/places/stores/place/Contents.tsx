import type { PlacePage } from '@corewright/contracts/places';
import { useMemo, useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { Button } from '../../../ui/Button.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Tag } from '../../../ui/Tag.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { NotThereForm } from '../NotThereForm.js';
import styles from './Shelf.module.css';
import { rowsOf } from './shelves.js';
import { ThingStates } from './ThingStates.js';
import { lainSince } from './thing-states.js';
import { useColumns } from './use-columns.js';

type Lying = PlacePage['contents'][number];

const tagWidthMin = 300;

/** What lies in a place: the tag of each, under its photograph where there is one. */
export function Contents({ place }: { readonly place: PlacePage }) {
  const [reference, columns] = useColumns<HTMLDivElement>(tagWidthMin);
  const rows = useMemo(() => rowsOf(place.contents, columns), [place.contents, columns]);
  return (
    <div ref={reference}>
      <VirtualList label="What lies here" items={rows} itemKey={(row) => row[0]?.id ?? ''} estimate={190}>
        {(row) => (
          <div className={styles.tags} style={{ '--columns': columns } as React.CSSProperties}>
            {row.map((thing) => (
              <Hung key={thing.id} thing={thing} place={place} />
            ))}
          </div>
        )}
      </VirtualList>
    </div>
  );
}

/** A thing as it hangs here by the books; whoever stands here and does not find it says so. */
function Hung({ thing, place }: { readonly thing: Lying; readonly place: PlacePage }) {
  const [isMissed, setMissed] = useState(false);
  const maySay = useWorksWithThings() && place.kind !== 'tray' && !thing.isMissing;
  return (
    <div className={styles.hung}>
      {thing.pictureId !== null && (
        <img className={styles.photograph} src={`/api/pictures/${thing.pictureId}/small`} alt={thing.name} loading="lazy" />
      )}
      <Tag
        kind={thing.kind}
        code={thing.code}
        href={`/stores/things/${thing.id}`}
        fact={thing.kind === 'lot' ? thing.quantity : null}
        what={thing.name}
        foot={[lainWords(thing)]}
      >
        <ThingStates thing={thing} />
        {thing.detail}
      </Tag>
      {maySay && !isMissed && (
        <span className={styles.acts}>
          <Button look="plain" label={`Not there: ${thing.code}`} onPress={() => setMissed(true)}>
            Not there
          </Button>
        </span>
      )}
      {isMissed && <NotThereForm thing={thing} placeId={place.id} where={place.path} onClose={() => setMissed(false)} />}
    </div>
  );
}

/** When it was last moved and by whom, where that is long ago; empty where it moved lately. */
function lainWords({ lastMoved }: Lying): string {
  const now = new Date();
  if (lastMoved === null || !lainSince(lastMoved.at, now)) return '';
  return `lain since ${sayInstant(lastMoved.at, now)}${lastMoved.by === '' ? '' : `, put there by ${lastMoved.by}`}`;
}
