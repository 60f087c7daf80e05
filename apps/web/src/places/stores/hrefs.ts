import type { SearchHit } from '@corewright/contracts/stores';

/** Where a found thing's page is. */
export function hrefOfHit(hit: Pick<SearchHit, 'kind' | 'id'>): string {
  switch (hit.kind) {
    case 'part':
      return `/stores/parts/${hit.id}`;
    case 'place':
      return `/stores/places/${hit.id}`;
    case 'job':
      return `/jobs/${hit.id}`;
    default:
      return `/stores/things/${hit.id}`;
  }
}
