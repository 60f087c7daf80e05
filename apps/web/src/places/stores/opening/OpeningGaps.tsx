import type { OpeningProgress } from '@corewright/contracts/opening-stock';
import { useQuery } from '@tanstack/react-query';
import { Go } from '../../../ui/Go.js';
import styles from './Opening.module.css';
import { progressQuery } from './queries.js';
import { sayGaps } from './say-gaps.js';

/** Beside every search: which racks are not in the books yet, for what is not found may lie there. Before opening stock is begun it says nothing. */
export function OpeningGaps() {
  const gaps = sayGaps(useQuery(progressQuery).data);
  if (gaps === null) return null;
  return (
    <p className={styles.gaps}>
      {gaps} <Go href="/stores/opening">Opening stock</Go>
    </p>
  );
}

/** On the page of a place: how far it is, and the way to key what lies there. */
export function OpeningOfPlace({ placeId }: { readonly placeId: string }) {
  const progress: OpeningProgress | undefined = useQuery(progressQuery).data;
  const shelf = progress?.racks.flatMap(({ shelves }) => shelves).find(({ id }) => id === placeId);
  if (progress?.started !== true || shelf === undefined || shelf.state === 'done') return null;
  return (
    <p className={styles.gaps}>
      {shelf.name} {shelf.state === 'begun' || shelf.lying > 0 ? 'is not all in the books yet.' : 'is not in the books yet.'}{' '}
      Things may lie here that no search finds. <Go href={`/stores/opening/shelf/${placeId}`}>Key what lies here</Go>
    </p>
  );
}
