import type { ShelfPlace } from '@corewright/contracts/places';
import { useMemo } from 'react';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { sayThings } from '../say-things.js';
import styles from './Shelf.module.css';
import { rowsOf, shelvesOf } from './shelves.js';
import { ThingStates } from './ThingStates.js';
import { useColumns } from './use-columns.js';

interface ShelfRow {
  readonly key: string;
  /** said above the first row of a shelf */
  readonly shelf: string;
  readonly places: readonly ShelfPlace[];
}

const binWidthMin = 158;

/** What stands in a place, as one sees it from in front: side by side in order, shelf by shelf. */
export function Shelves({ places, label }: { readonly places: readonly ShelfPlace[]; readonly label: string }) {
  const [reference, columns] = useColumns<HTMLDivElement>(binWidthMin);
  const rows = useMemo(
    () =>
      shelvesOf(places).flatMap(({ name, places: standing }) =>
        rowsOf(standing, columns).map(
          (row, index): ShelfRow => ({ key: row[0]?.id ?? name, shelf: index === 0 ? name : '', places: row }),
        ),
      ),
    [places, columns],
  );
  return (
    <div ref={reference}>
      <VirtualList label={label} items={rows} itemKey={(row) => row.key} estimate={180}>
        {(row) => (
          <>
            {row.shelf !== '' && <h3 className={styles.shelfName}>{row.shelf}</h3>}
            <div className={styles.row} style={{ '--columns': columns } as React.CSSProperties}>
              {row.places.map((place) => (
                <Bin key={place.id} place={place} />
              ))}
            </div>
          </>
        )}
      </VirtualList>
    </div>
  );
}

/** A bin from in front: its name and code, a photograph if there is one, and what lies in it. */
function Bin({ place }: { readonly place: ShelfPlace }) {
  const picture = place.things.find(({ pictureId }) => pictureId !== null);
  return (
    <Go className={styles.bin} href={`/stores/places/${place.id}`}>
      <span className={styles.front}>
        <span className={styles.name}>{place.name}</span>
        <span className={styles.code}>
          <Code code={place.code} />
        </span>
      </span>
      {picture !== undefined && (
        <img className={styles.picture} src={`/api/pictures/${picture.pictureId}/small`} alt={picture.name} loading="lazy" />
      )}
      {place.things.map((thing) => (
        <span key={thing.id} className={styles.lying}>
          {thing.kind === 'lot' && <b>{thing.quantity} </b>}
          {thing.name}
          <ThingStates thing={thing} />
        </span>
      ))}
      <Rest place={place} />
    </Go>
  );
}

function Rest({ place }: { readonly place: ShelfPlace }) {
  const { thingCount, things, placesBelow, thingsBelow, isClosed } = place;
  if (isClosed) return <span className={styles.closed}>closed</span>;
  if (placesBelow > 0)
    return (
      <span className={styles.more}>
        {things.length > 0 && thingCount > things.length && `and ${thingCount - things.length} more; `}
        {placesBelow === 1 ? '1 place' : `${placesBelow} places`} in it, {sayThings(thingsBelow)}
      </span>
    );
  if (thingCount === 0) return <span className={styles.empty}>empty</span>;
  if (thingCount > things.length) return <span className={styles.more}>and {thingCount - things.length} more</span>;
  return null;
}
